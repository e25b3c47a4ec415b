/* Lets the theme's version selector ask for ../versions.json only where that can be there: on a web server, and in a
   folder that is called as this edition is, made anew or not. Elsewhere, as in a folder or a preview, it stays away. */
(function () {
  "use strict";

  var own = document.currentScript;
  var config = document.getElementById("__config");
  if (!own || !config) return;
  var edition = own.getAttribute("data-edition");
  var parts = new URL("../..", own.src).pathname.split("/").filter(Boolean);
  var folder = decodeURIComponent(parts[parts.length - 1] || "");
  var there = /^https?:$/.test(location.protocol) && (folder === edition || folder === edition + "-rerendered");
  if (there) return;
  try {
    var settings = JSON.parse(config.textContent);
    settings.version = null;
    config.textContent = JSON.stringify(settings);
  } catch (unreadable) {
    /* Then the theme knows what to do with it, or nobody. */
  }
})();
