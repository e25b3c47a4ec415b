/* Shows one step of the page and hides all others: the same elements, picked out. Its drawing comes behind it, with what
   the step is about marked; how and why are folded. Leaving puts everything back. */
(function () {
  "use strict";

  function element(tag, text, className) {
    var made = document.createElement(tag);
    if (text) made.textContent = text;
    if (className) made.className = className;
    return made;
  }

  function button(text, act, main) {
    var made = element("button", text, "gs-button" + (main ? " gs-main" : ""));
    made.type = "button";
    made.addEventListener("click", act);
    return made;
  }

  function shownOf(group, words) {
    var items = Array.from(group.querySelectorAll(".gg-phases li.gg-step"));
    var undo = [];

    function texts(within, what) {
      return Array.from(within.querySelectorAll(what), function (one) {
        return one.textContent.trim();
      });
    }

    function hide() {
      undo.reverse().forEach(function (put) {
        put();
      });
      undo = [];
    }

    function mark(one, className) {
      one.classList.add(className);
      undo.push(function () {
        one.classList.remove(className);
        if (!one.classList.length) one.removeAttribute("class");
      });
    }

    /* Moves an element, and back when the step is left. */
    function move(one, into) {
      var parent = one.parentNode;
      var before = one.nextSibling;
      into.append(one);
      undo.push(function () {
        parent.insertBefore(one, before);
      });
    }

    function made(one, into) {
      into.append(one);
      undo.push(function () {
        one.remove();
      });
      return one;
    }

    function fold(item) {
      var more = Array.from(item.querySelectorAll(":scope > .gg-step__how"));
      if (!more.length) return;
      var details = made(element("details", "", "gs-how"), item);
      details.append(element("summary", words.how));
      more.reverse().forEach(function (one) {
        move(one, details);
      });
      more.forEach(function (one) {
        details.firstChild.after(one);
      });
    }

    /* The callouts of a drawing have ring, number, dot and leader in one order. */
    function pick(figure, wanted) {
      var numbers = figure.querySelectorAll(".gd-number + text");
      var dots = figure.querySelectorAll(".gd-dot");
      var ways = Array.from(figure.querySelectorAll(".gd-leader")).flatMap(function (leaders) {
        return leaders.getAttribute("d").split("M").slice(1).map(function (way) { return [leaders, "M" + way]; });
      });
      numbers.forEach(function (text, place) {
        if (wanted.indexOf(text.textContent) < 0) return;
        mark(text, "is-picked");
        mark(text.previousElementSibling, "is-picked");
        if (dots[place]) mark(dots[place], "is-picked");
        if (!ways[place]) return;
        var way = ways[place][0].cloneNode();
        way.setAttribute("d", ways[place][1]);
        ways[place][0].after(way);
        undo.push(function () {
          way.remove();
        });
        mark(way, "is-picked");
      });
    }

    function draw(section, item) {
      var row = section.querySelector(":scope > .gd-row");
      if (!row) return;
      var wanted = texts(item, ".gg-step__do .gd-ring");
      move(row, section);
      row.querySelectorAll("figure").forEach(function (figure) {
        var lines = Array.from(figure.querySelectorAll(".gd-list li"));
        var here = lines.filter(function (line) {
          return wanted.indexOf(line.querySelector(".gd-ring").textContent) >= 0;
        });
        if (here.length) pick(figure, wanted);
        else mark(figure, "is-off");
        lines.forEach(function (line) {
          if (here.indexOf(line) < 0) mark(line, "is-off");
        });
      });
    }

    /* Shows the step at a place, with what is put in there; without a place, none. */
    function show(place, inputs) {
      hide();
      if (place === null) return;
      var item = items[place];
      var section = item.closest(".gg-phase");
      mark(item, "is-now");
      mark(section, "is-now");
      made(inputs, item);
      fold(item);
      draw(section, item);
    }

    /* The words of a step's act, without what stands around it. */
    function act(place) {
      return Array.from(items[place].querySelector(".gg-step__do > span").childNodes)
        .filter(function (node) {
          return node.nodeType === Node.TEXT_NODE;
        })
        .map(function (node) {
          return node.textContent.trim();
        })
        .join(" ")
        .trim();
    }

    /* What is printed behind the first word of an element. */
    function behind(said) {
      return said ? Array.from(said.childNodes).slice(1).map(function (node) { return node.textContent; }).join("").trim() : "";
    }

    /* What the page says where the work may rest behind a step. */
    function stopWords(place) {
      return behind(items[place].closest(".gg-phase").querySelector(".gg-hold--stop p"));
    }

    /* What the page says of a step whose check fails. */
    function failing(place) {
      var said = items[place].querySelector(".gg-hold__fail");
      return behind(said && said.querySelector("b") ? said : null);
    }

    function text(place, what) {
      var said = items[place].querySelector(what);
      return said ? said.textContent.trim() : "";
    }

    /* Ticks a step that is done; one that is not, or comes again, is looked at anew. */
    function tick(place, done) {
      items[place].querySelectorAll(done ? ".gg-step__do > input" : "input[data-tick]").forEach(function (box) {
        if (box.checked === done) return;
        box.checked = done;
        box.dispatchEvent(new Event("change", { bubbles: true }));
      });
    }

    /* What was read stands in the page's own record, for print. */
    function note(place, text) {
      document.querySelectorAll('.gg-readings a[href="#' + CSS.escape(items[place].id) + '"]').forEach(function (link) {
        link.closest("tr").lastElementChild.textContent = text;
      });
    }

    return { items: items, show: show, act: act, stopWords: stopWords, failing: failing, text: text, tick: tick, note: note };
  }

  window.guidegenShown = { of: shownOf, element: element, button: button };
})();
