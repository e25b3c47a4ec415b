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
  if (there) {
    nameSelector();
    return;
  }
  try {
    var settings = JSON.parse(config.textContent);
    settings.version = null;
    config.textContent = JSON.stringify(settings);
  } catch (unreadable) {
    /* Then the theme knows what to do with it, or nobody. */
  }

  /* The theme names the selector's button without the edition that stands on it, so nobody could call it by what he
     sees. */
  function nameSelector() {
    var header = document.querySelector(".md-header");
    if (!header) return;
    var watch = new MutationObserver(function () {
      var button = header.querySelector(".md-version__current");
      if (!button) return;
      watch.disconnect();
      var shown = Array.from(button.childNodes, function (node) { return node.textContent.trim(); }).join(" ");
      button.setAttribute("aria-label", button.getAttribute("aria-label") + ": " + shown);
    });
    watch.observe(header, { childList: true, subtree: true });
  }
})();
