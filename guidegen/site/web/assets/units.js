/* Units switch: metric, imperial or both, remembered in this browser.
   The page holds every number in both; this only says which are shown (base.css does the rest).
   It runs before the first paint, so it also says at once that scripts run, which the theme's script would say later:
   the header is not drawn for readers without scripts first, and then moved. */
(function () {
  "use strict";

  var KEY = "guidegen.units";
  var CHOICES = ["metric", "imperial", "both"];

  function remembered() {
    try {
      var choice = localStorage.getItem(KEY);
      return CHOICES.indexOf(choice) < 0 ? "metric" : choice;
    } catch (refused) {
      return "metric";
    }
  }

  function remember(choice) {
    try {
      localStorage.setItem(KEY, choice);
    } catch (refused) {
      /* Then it holds for this page only. */
    }
  }

  function show(choice) {
    document.documentElement.setAttribute("data-units", choice);
  }

  show(remembered());
  document.documentElement.classList.replace("no-js", "js");

  document.addEventListener("DOMContentLoaded", function () {
    var form = document.querySelector(".units-switch");
    var bar = document.querySelector(".md-header__inner");
    if (!form || !bar) return;
    var select = form.querySelector("select");
    bar.insertBefore(form, bar.querySelector(':scope > [data-opens="__search"], :scope > .md-search'));
    select.value = remembered();
    form.hidden = false;
    select.addEventListener("change", function () {
      show(select.value);
      remember(select.value);
    });
    window.addEventListener("storage", function (event) {
      if (event.key !== KEY) return;
      show(remembered());
      select.value = remembered();
    });
  });
})();
