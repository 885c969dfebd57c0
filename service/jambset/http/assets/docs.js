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

/* The reader gives its choices among examples, and among the values of a parameter, no name. */
new MutationObserver(() => {
  for (const choice of document.querySelectorAll("#docs select:not([aria-label])")) {
    const parameter = choice.closest("tr[data-param-name]");
    if (parameter) choice.setAttribute("aria-label", parameter.dataset.paramName);
    else if (choice.matches(".examples-select-element")) choice.setAttribute("aria-label", "Examples");
  }
}).observe(document.getElementById("docs"), { childList: true, subtree: true });
