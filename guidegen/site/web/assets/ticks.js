/* Tick boxes that stay ticked: remembered per guide and edition, so a new edition starts clean.
   <section data-ticks="tamsin-mk2/feed-preheater@2026.2"> holds <input type="checkbox" data-tick="drain-1">. */
(function () {
  "use strict";

  function key(group) {
    return "guidegen.ticks." + group.getAttribute("data-ticks");
  }

  function load(group) {
    try {
      var names = JSON.parse(localStorage.getItem(key(group)) || "[]");
      return Array.isArray(names) ? names : [];
    } catch (refused) {
      return [];
    }
  }

  function save(group, names) {
    try {
      if (names.length) localStorage.setItem(key(group), JSON.stringify(names));
      else localStorage.removeItem(key(group));
    } catch (refused) {
      /* Then they hold for this page only. */
    }
  }

  function boxes(within) {
    return Array.prototype.slice.call(within.querySelectorAll("input[data-tick]"));
  }

  /* Those of the case that is shown. */
  function shown(within) {
    return boxes(within).filter(function (box) {
      return !box.closest("[hidden]");
    });
  }

  function ticked(within) {
    return boxes(within).filter(function (box) {
      return box.checked;
    });
  }

  /* Each phase says how far it is: "3 / 7", in its heading's place and in the contents list. */
  function count(group) {
    group.querySelectorAll("[data-phase]").forEach(function (phase) {
      var boxed = shown(phase);
      var all = boxed.length;
      if (!all) return;
      var done = boxed.filter(function (box) {
        return box.checked;
      }).length;
      var id = phase.getAttribute("data-phase");
      var places = phase.querySelectorAll(".phase-progress");
      places.forEach(function (place) {
        place.textContent = done + " / " + all;
      });
      document.querySelectorAll('.md-nav--secondary a[href="#' + CSS.escape(id) + '"]').forEach(function (link) {
        link.setAttribute("data-progress", done + " / " + all);
        link.classList.toggle("is-done", done === all);
      });
    });
  }

  function start(group) {
    var names = load(group);
    boxes(group).forEach(function (box) {
      box.checked = names.indexOf(box.getAttribute("data-tick")) >= 0;
    });
    count(group);
    group.addEventListener("change", function (event) {
      if (!event.target.matches("input[data-tick]")) return;
      save(
        group,
        ticked(group).map(function (box) {
          return box.getAttribute("data-tick");
        })
      );
      count(group);
    });
    document.addEventListener("guidegen:case", function () {
      count(group);
    });
    var clear = group.querySelector("[data-clear-ticks]");
    if (!clear) return;
    clear.hidden = false;
    clear.addEventListener("click", function () {
      boxes(group).forEach(function (box) {
        box.checked = false;
      });
      save(group, []);
      count(group);
    });
  }

  document.querySelectorAll("[data-ticks]").forEach(start);
})();
