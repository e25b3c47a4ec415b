/* The self-check: asks one question at a time, keeps the answers in the page's link, and at an end hands over to
   self-check-outcome.js. What it decides comes from self-check-rules.js. Without scripts the page is a form to print. */
(function () {
  "use strict";

  var check = window.guidegenSelfCheck;
  var say = window.guidegenSelfCheckWords.say;
  var named = window.guidegenSelfCheckWords.named;

  function start(section) {
    var payload = JSON.parse(section.querySelector("script[type='application/json']").textContent);
    var rules = payload.rules;
    var words = payload.words;
    var facts = check.factsByName(payload);
    var form = section.querySelector("form");
    var result = section.querySelector(".sc-result");
    var status = section.querySelector(".sc-status");
    var state = { answers: {}, choice: 0, linked: "" };
    var shown = [];
    var showResult = window.guidegenSelfCheckOutcome.of(section, payload, state, function (name) {
      showQuestion(name, true);
    });

    /* The questions that are shown beside a question, itself among them: those of its screen. */
    function screenOf(name) {
      var screen = named(payload.questions, "fact", name).screen;
      if (!screen) return [name];
      return payload.questions.filter(function (one) {
        return one.screen === screen;
      }).map(function (one) {
        return one.fact;
      });
    }

    /* Where the answers lead, of a kit on this variant or of which variant it is. */
    function judged() {
      if (!payload.variants) return check.walk(rules, state.answers);
      return window.guidegenSelfCheckWhich.identified(rules, payload.shows, state.answers);
    }

    function question(name) {
      return form.querySelector('[data-fact="' + name + '"]');
    }

    /* At most so many more questions: the longest way from here to an end. */
    function longest(branch, known) {
      if (branch < 0) return 0;
      if (known[branch] === undefined) {
        known[branch] = 1 + Math.max.apply(null, rules.nodes[branch].slice(1).map(function (next) {
          return longest(next, known);
        }));
      }
      return known[branch];
    }

    function branchOf(name) {
      return rules.nodes.findIndex(function (node) {
        return rules.facts[node[0]].fact === name;
      });
    }

    /* --- one question --- */

    function read(name) {
      var box = question(name);
      var picked = box.querySelector("input[type='radio']:checked");
      if (!picked) return { error: words.pick };
      if (picked.value !== "measured") {
        var said = check.readAnswer(facts[name], picked.value);
        return said ? { answer: said } : { error: words.pick };
      }
      var unit = check.unitOf(facts[name], box.querySelector("[data-unit]").value);
      var found = check.readNumber(unit, box.querySelector("[data-number]").value);
      var ends = unit.plausible.map(function (count) {
        return check.writeCount(unit.decimals, count) + " " + unit.unit;
      });
      var range = { low: ends[0], high: ends[1], photo: words.photo, example: check.example(unit) };
      if (found.error === "fine") return { error: say(words.too_fine, { unit: unit.unit, decimals: unit.decimals }) };
      if (found.error === "close") return { error: words.too_close };
      if (found.error) return { error: say(words.no_number, range) };
      var answer = { unit: unit.unit, count: found.count };
      return check.isPlausible(facts[name], answer) ? { answer: answer } : { error: say(words.implausible, range) };
    }

    function showError(name, text) {
      var box = question(name);
      var place = box.querySelector(".sc-error");
      place.textContent = text;
      var field = box.querySelector("[data-number]");
      if (field) field.setAttribute("aria-invalid", text ? "true" : "false");
    }

    function focusError(name) {
      var box = question(name);
      var field = box.querySelector("[data-number]");
      (box.querySelector("input:checked[value='measured']") ? field : box.querySelector("input")).focus();
    }

    function fill(name) {
      var answer = state.answers[name];
      if (!answer) return;
      var box = question(name);
      var value = "count" in answer ? "measured" : check.writeAnswer(facts[name], answer);
      box.querySelectorAll("input[type='radio']").forEach(function (radio) {
        radio.checked = radio.value === value;
      });
      if (value !== "measured") return;
      var unit = check.unitOf(facts[name], answer.unit);
      box.querySelector("[data-unit]").value = answer.unit;
      box.querySelector("[data-number]").value = check.writeCount(unit.decimals, answer.count);
    }

    function showQuestion(name, moved) {
      shown = screenOf(name);
      form.hidden = false;
      result.hidden = true;
      form.querySelectorAll("[data-fact]").forEach(function (box) {
        box.hidden = shown.indexOf(box.getAttribute("data-fact")) < 0;
      });
      shown.forEach(prepare);
      showProgress();
      if (moved) question(name).querySelector("legend").focus();
    }

    /* Who reads imperial begins with the imperial unit, as long as nothing is answered. */
    function preferUnit(name) {
      var chooser = question(name).querySelector("[data-unit]");
      var imperial = chooser && chooser.querySelector("[data-imperial]");
      if (imperial && document.documentElement.getAttribute("data-units") === "imperial") chooser.value = imperial.value;
    }

    function prepare(name) {
      if (!state.answers[name]) preferUnit(name);
      fill(name);
      // Where a number is asked it is what most will give; on paper no box is ticked beforehand.
      var measured = question(name).querySelector("input[value='measured']");
      if (measured && !question(name).querySelector("input[type='radio']:checked")) measured.checked = true;
      showError(name, "");
    }

    /* How many of the asked questions stand before those that are shown. */
    function placeOfShown() {
      var asked = check.walk(rules, state.answers).asked;
      var place = asked.findIndex(function (name) {
        return shown.indexOf(name) >= 0;
      });
      return place < 0 ? asked.length : place;
    }

    function showProgress() {
      var number = placeOfShown() + 1;
      var last = number + shown.length - 1;
      var more = Math.max(0, longest(branchOf(shown[0]), {}) - shown.length);
      var several = shown.length > 1 ? "progress_screen" : "progress";
      form.querySelector(".sc-back").disabled = number === 1;
      status.classList.remove("sc-screen-reader-only");
      status.textContent = say(words[more ? several : several + "_last"], { number: number, last: last, more: more });
    }

    function show(moved) {
      var found = judged();
      if (found.ask) {
        showQuestion(found.ask, moved);
        return;
      }
      shown = [];
      form.hidden = true;
      showResult(found, moved);
    }

    function remember() {
      try {
        history.replaceState(history.state, "", check.writeLink(payload, state.answers, judged().asked));
      } catch (refused) {
        /* Then the page has no link of its own until the outcome shows one. */
      }
    }

    function fromLink() {
      var found = check.readLink(payload, location.hash);
      if (!found) return false;
      state.answers = found.answers;
      state.linked = found.edition;
      state.choice = 0;
      return true;
    }

    form.addEventListener("submit", function (event) {
      event.preventDefault();
      var found = shown.map(read);
      var wrong = shown.filter(function (name, place) {
        showError(name, found[place].error || "");
        return found[place].error;
      });
      if (wrong.length) {
        focusError(wrong[0]);
        return;
      }
      shown.forEach(function (name, place) {
        state.answers[name] = found[place].answer;
      });
      state.choice = 0;
      remember();
      show(true);
    });

    form.addEventListener("input", function (event) {
      if (!event.target.matches("[data-number], [data-unit]")) return;
      var measured = event.target.closest("[data-fact]").querySelector("input[value='measured']");
      measured.checked = true;
    });

    form.querySelector(".sc-back").addEventListener("click", function () {
      var before = check.walk(rules, state.answers).asked[placeOfShown() - 1];
      if (before) showQuestion(screenOf(before)[0], true);
    });

    result.querySelector(".sc-again").addEventListener("click", function () {
      state.answers = {};
      state.linked = "";
      state.choice = 0;
      form.reset();
      remember();
      show(true);
    });

    window.addEventListener("hashchange", function () {
      if (fromLink()) show(true);
    });

    section.classList.add("sc-on");
    section.querySelectorAll(".sc-paper").forEach(function (paper) {
      paper.hidden = true;
    });
    form.querySelector(".sc-buttons").hidden = false;
    fromLink();
    show(false);
  }

  document.querySelectorAll("[data-self-check]").forEach(start);
})();
