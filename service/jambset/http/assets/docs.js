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
