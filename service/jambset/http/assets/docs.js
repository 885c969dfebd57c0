"use strict";
window.ui = SwaggerUIBundle({
  url: "/openapi.json",
  dom_id: "#docs",
  presets: [SwaggerUIBundle.presets.apis],
  layout: "BaseLayout",
  validatorUrl: null,
  queryConfigEnabled: false,
  deepLinking: true,
  docExpansion: "list",
  defaultModelsExpandDepth: 0,
  displayRequestDuration: true,
  showCommonExtensions: true,
  showExtensions: true,
  tryItOutEnabled: false,
});

/* The reader gives its choices among examples no name. */
new MutationObserver(() => {
  const nameless = document.querySelectorAll("#docs .examples-select-element:not([aria-label])");
  for (const choice of nameless) choice.setAttribute("aria-label", "Examples");
}).observe(document.getElementById("docs"), { childList: true, subtree: true });
