/* What if: four select boxes name one computed point; its row of the table below is shown beside them.
   Nothing is computed here, and without this script the table stands there whole. */
(function () {
  "use strict";

  document.querySelectorAll("[data-what-if]").forEach(function (part) {
    var form = part.querySelector("form");
    var shown = part.querySelector(".gg-what-if__shown");
    var selects = Array.prototype.slice.call(form.querySelectorAll("select"));

    function show() {
      var at = selects
        .map(function (select) {
          return select.value;
        })
        .join("-");
      var row = part.querySelector('tr[data-at="' + at + '"]');
      shown.querySelectorAll("[data-part]").forEach(function (place) {
        var cell = row.querySelector('[data-part="' + place.getAttribute("data-part") + '"]');
        place.replaceChildren.apply(place, cell.cloneNode(true).childNodes);
      });
    }

    selects.forEach(function (select) {
      select.addEventListener("change", show);
    });
    form.hidden = false;
    shown.hidden = false;
    part.querySelector("details").open = false;
    show();
  });
})();
