/* Name, address and serial number for an order. They are kept in this browser and stand in the text that its owner may
   send; nothing here sends them, and no link has them. */
(function () {
  "use strict";

  var KEY = "guidegen.order";

  function remembered() {
    try {
      var kept = JSON.parse(localStorage.getItem(KEY));
      return kept && typeof kept === "object" ? kept : {};
    } catch (refused) {
      return {};
    }
  }

  function remember(kept) {
    try {
      if (Object.keys(kept).length) localStorage.setItem(KEY, JSON.stringify(kept));
      else localStorage.removeItem(KEY);
    } catch (refused) {
      /* Then they hold for this page only. */
    }
  }

  /* The fields of a section; `changed` is called when what they say has changed. */
  function ownOf(section, changed) {
    var fields = Array.from(section.querySelectorAll("[data-own-line]"));

    function nameOf(field) {
      return field.getAttribute("data-own-line");
    }

    function filled() {
      return fields.filter(function (field) {
        return field.value.trim();
      });
    }

    function keep() {
      remember(
        Object.fromEntries(
          filled().map(function (field) {
            return [nameOf(field), field.value];
          })
        )
      );
      changed();
    }

    var kept = remembered();
    fields.forEach(function (field) {
      var value = kept[nameOf(field)];
      if (typeof value === "string") field.value = value;
      field.addEventListener("input", keep);
    });
    var forget = section.querySelector(".sc-forget");
    if (forget)
      forget.addEventListener("click", function () {
        fields.forEach(function (field) {
          field.value = "";
        });
        keep();
      });

    /* The lines for the text; an address becomes one line. */
    return function () {
      return filled().map(function (field) {
        return nameOf(field) + ": " + field.value.trim().split(/\s*\n\s*/).join(", ") + "\n";
      }).join("");
    };
  }

  window.guidegenSelfCheckOwn = ownOf;
})();
