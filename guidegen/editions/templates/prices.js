/* Prices end with a day, and these pages stay as they were delivered: after that day they say so. Silent before it. */
(function () {
  "use strict";

  function today() {
    var now = new Date();
    var pad = function (number) {
      return String(number).padStart(2, "0");
    };
    return now.getFullYear() + "-" + pad(now.getMonth() + 1) + "-" + pad(now.getDate());
  }

  document.querySelectorAll("[data-until]").forEach(function (place) {
    if (place.getAttribute("data-until") >= today()) return;
    place.textContent = place.getAttribute("data-over");
    place.className = "over";
    document.documentElement.className = "lapsed";
  });
})();
