/* What is put in at a step: the reading of a hold point, the name of the skilled person, the clocks of waits. It judges a
   reading by step-reading.js and says in the page's words what is missing. */
(function () {
  "use strict";

  var element = window.guidegenShown.element;
  var timer = window.guidegenTimer;
  var BARE = /^[0-9]+(?:\.[0-9]+)?(?:\/[1-9][0-9]*)?$/;

  function handOf(data, reading, shown, say) {
    var words = data.words;
    var now = {};
    var sound = null;

    function field(label, value) {
      var made = element("label", "", "gs-field");
      var input = element("input");
      input.type = "text";
      input.autocomplete = "off";
      input.maxLength = 80;
      input.value = value || "";
      made.append(element("span", label), input);
      now.box.append(made);
      return input;
    }

    function button(text, act) {
      var made = element("button", text, "gs-button");
      made.type = "button";
      made.addEventListener("click", act);
      now.box.append(made);
      return made;
    }

    /* A clock for a time that the step states. */
    function clock(p, step, index) {
      var wait = step.w[index];
      var row = element("p", wait[1] + ". ", "gs-clock");
      var says = element("span");
      row.append(says);
      now.box.append(row);
      var start = button(words.start_timer, function () {
        timer.start(p, step.place, index, wait[0], wait[2], Date.now());
        var Sound = window.AudioContext || window.webkitAudioContext;
        if (!sound && Sound) sound = new Sound();
        now.on.keep();
        tick(p);
      });
      now.clocks.push({ index: index, says: says, start: start });
    }

    /* What was put in at a step that is done. */
    function held(p, place) {
      var kept = p.holds[place] || {};
      return [kept.reading || kept.note, p.names[place]].filter(Boolean).join(", ");
    }

    /* The step's own inputs, behind its words; for a step that was done, what was put in. `on` has what its buttons do. */
    function show(p, step, viewed, on) {
      now = { box: element("div", "", "gs-hand"), clocks: [], step: step, on: on };
      if (viewed) {
        now.box.append(element("p", held(p, step.place)));
        return now.box;
      }
      (step.w || []).forEach(function (wait, index) {
        clock(p, step, index);
      });
      if ((step.w || []).some(waited)) now.other = otherClock();
      if (step.h) hold(step);
      if (step.s) skilled(p, step);
      now.error = element("p", "", "gs-error");
      now.error.setAttribute("role", "alert");
      now.box.append(now.error);
      if (step.h) button(words.failed, function () { on.failed(outside(step.h, written())); });
      else if (step.g) button(words.moved, on.moved);
      tick(p);
      return now.box;
    }

    /* Whether a time has to pass; one that may not be exceeded has not. */
    function waited(wait) {
      return wait[2] !== "most";
    }

    function otherClock() {
      var made = element("label", "", "gs-check");
      var input = element("input");
      input.type = "checkbox";
      made.append(input, element("span", words.other_clock));
      now.box.append(made);
      return input;
    }

    /* Who did one step need not have done another: names that were written are offered, not put in. */
    function skilled(p, step) {
      var names = element("datalist");
      names.id = "gs-names";
      new Set(Object.values(p.names)).forEach(function (name) { names.append(new Option(name)); });
      now.name = field(words.name, p.names[step.place]);
      now.name.setAttribute("list", names.id);
      now.box.append(names);
    }

    function hold(step) {
      var what = shown.text(step.place, ".gg-hold__line");
      var unit = reading.wants(step.h) ? reading.measured(step.h.l).unit : "";
      if (unit) now.input = field(say(words.reading, { what: what, unit: unit }));
      else if (step.h.r || step.h.n) now.note = field(say(words.for_sheet, { what: what }));
      if (unit) now.input.inputMode = "decimal";
      now.unit = unit;
    }

    /* What was written, with the limit's unit behind a bare number. */
    function written() {
      if (!now.input) return "";
      var text = now.input.value.trim().replace(/([0-9]),([0-9])/g, "$1.$2");
      return BARE.test(text) ? text + " " + now.unit : text;
    }

    /* A reading that is beyond its limit; nothing where it is within, or none. */
    function outside(hold, text) {
      return text && reading.reads(hold.l, text) && !reading.accepted(hold.s, hold.l, text) ? text : "";
    }

    function refuse(text, input) {
      now.error.textContent = text;
      if (!input) return null;
      input.setAttribute("aria-invalid", "true");
      input.focus();
      return null;
    }

    /* What a passed step leaves to be kept, or null, and then the page says what is missing. */
    function passed(p, step) {
      var text = written();
      now.box.querySelectorAll("[aria-invalid]").forEach(function (input) { input.removeAttribute("aria-invalid"); });
      var over = (step.w || []).every(function (wait, index) {
        var clock = timer.of(p, step.place, index);
        return !waited(wait) || (clock && clock.over);
      });
      if (!over && !now.other.checked) return refuse(words.not_over, now.other);
      if (now.input && !reading.reads(step.h.l, text)) return refuse(say(words.no_reading, { limit: step.h.l }), now.input);
      if (now.input && outside(step.h, text)) {
        return refuse(say(words.outside, { reading: text, limit: step.h.l }), now.input);
      }
      var looks = Array.from(now.box.parentNode.querySelectorAll(".gg-hold .gg-ticks input"));
      var open = looks.find(function (look) { return !look.checked; });
      if (open) return refuse(words.look_first, open);
      if (step.h && step.h.n && !now.note.value.trim()) return refuse(words.no_signature, now.note);
      if (step.s && !now.name.value.trim()) return refuse(words.no_name, now.name);
      if (step.s) p.names[step.place] = now.name.value.trim();
      return { result: "passed", reading: text, note: now.note ? now.note.value.trim() : "" };
    }

    /* Says how the clocks of the shown step stand. */
    function tick(p) {
      (now.clocks || []).forEach(function (one) {
        var at = timer.of(p, now.step.place, one.index);
        var moment = Date.now();
        one.start.hidden = at !== null && !at.over;
        if (!at) one.says.textContent = "";
        else if (at.over) one.says.textContent = say(words.over, { time: timer.clock(at.ends, moment) });
        else {
          var values = { time: timer.clock(at.ends, moment), left: timer.left(at.ends - moment) };
          one.says.textContent = say(words.ends, values);
        }
      });
    }

    /* Something is over: heard and felt where the device lets a page do that. */
    function ring() {
      if (navigator.vibrate) navigator.vibrate([300, 150, 300]);
      if (!sound) return;
      var tone = sound.createOscillator();
      tone.frequency.value = 660;
      tone.connect(sound.destination);
      tone.start();
      tone.stop(sound.currentTime + 0.6);
    }

    return { show: show, held: held, passed: passed, tick: tick, ring: ring };
  }

  window.guidegenHand = handOf;
})();
