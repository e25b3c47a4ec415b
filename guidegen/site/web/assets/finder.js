/* The finder on the home page: select boxes that hide what does not match. Without scripts the list stands whole.
   Choices come from the list itself, so that none leads to nothing at the start. */
(function () {
  "use strict";

  function yearsOf(item) {
    var found = (item.getAttribute("data-years") || "").match(/\d{4}/g) || [];
    return found.map(Number);
  }

  function valuesOf(item, by) {
    if (by === "fits") return item.getAttribute("data-fits").split("|").filter(Boolean);
    if (by !== "year") return [item.getAttribute("data-" + by)];
    var years = yearsOf(item);
    var all = [];
    for (var year = years[0]; year <= years[years.length - 1]; year += 1) all.push(String(year));
    return all;
  }

  function start(finder) {
    var form = finder.querySelector("form");
    var items = Array.from(finder.querySelectorAll(".gg-picks > li"));
    var boxes = Array.from(form.querySelectorAll("select[data-by]"));
    var found = form.querySelector("output");

    boxes.forEach(function (box) {
      var values = new Set();
      items.forEach(function (item) {
        valuesOf(item, box.getAttribute("data-by")).forEach(values.add, values);
      });
      Array.from(values)
        .sort()
        .forEach(function (value) {
          box.add(new Option(value, value));
        });
    });

    function show() {
      var count = 0;
      items.forEach(function (item) {
        item.hidden = !boxes.every(function (box) {
          return !box.value || valuesOf(item, box.getAttribute("data-by")).indexOf(box.value) >= 0;
        });
        if (!item.hidden) count += 1;
      });
      var words = found.getAttribute(count === 1 ? "data-one" : "data-many");
      found.textContent = words.replace("{}", String(count));
    }

    form.hidden = false;
    form.addEventListener("change", show);
    form.addEventListener("submit", function (event) {
      event.preventDefault();
    });
    show();
  }

  document.querySelectorAll("[data-finder]").forEach(start);
})();
