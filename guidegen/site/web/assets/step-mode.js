/* One step at a time: puts together what the scripts before it know, of the page's steps, the way through them, readings,
   timers and what is kept. Nothing is sent. */
(function () {
  "use strict";

  var intro = document.querySelector(".gs-intro");
  if (!intro) return;
  var data = JSON.parse(intro.querySelector(".gs-data").textContent);
  var words = data.words;
  var button = window.guidegenShown.button;
  var timer = window.guidegenTimer;
  var course = window.guidegenCourse(data);
  var reading = window.guidegenReading(data.units);
  var store = window.guidegenStore(data, course.steps);
  var shown = window.guidegenShown.of(document.querySelector("[data-ticks]"), words);
  var hand = window.guidegenHand(data, reading, shown, say);
  var on = { going: going, stop: stop, button: button, keep: keep, open: open };
  var kept = window.guidegenKept(data, course, store, say, on);
  var screen = window.guidegenScreen(course, say, words);
  var cards = window.guidegenCards(data, course, reading, shown, say, on);
  course.steps.forEach(function (step) {
    step.n = shown.text(step.place, ".gg-step__number");
  });
  var one = {};
  ["gs", "gs-where", "gs-note", "gs-foot", "gs-back", "gs-next", "gs-number"].forEach(function (name) {
    one[name] = document.querySelector("." + name);
  });
  var mark = "#step=";
  var TWICE = 400;
  var p = null;
  var viewed = null;
  var entered = 0;
  var touched = 0;
  var drawn = 0;

  function say(template, values) {
    return template.replace(/\{(\w+)\}/g, function (whole, name) {
      return name in values ? values[name] : whole;
    });
  }

  /* --- what is kept --- */

  function keep() {
    p.seen = Date.now();
    if (!store.save(p)) one["gs-note"].textContent = words.not_kept;
  }

  /* --- into the mode and out of it --- */

  function begin() {
    var chosen = window.guidegenMyCase.chosen();
    if (data.cases.length > 1 && !chosen) {
      kept.said(words.choose_case);
      document.querySelector("#my-case input").focus();
      return;
    }
    open(course.begin(store.newNumber(), chosen));
  }

  /* A guide that must not be used any more is not gone on with; the notice stands at the head of the page. */
  function stopped() {
    var notice = document.querySelector('.gg-notice[data-state="withdrawn"]');
    if (!notice) return false;
    if (location.hash.indexOf(mark) === 0) location.hash = "";
    leave();
    kept.said(words.withdrawn);
    notice.scrollIntoView();
    return true;
  }

  function open(progress) {
    if (stopped()) return;
    p = progress;
    window.guidegenMyCase.choose(p.case);
    document.documentElement.classList.add("gs-on");
    one.gs.hidden = one["gs-foot"].hidden = false;
    if (location.hash !== mark + p.number) location.hash = mark + p.number;
    ticks();
    shown.items.forEach(function (item, place) { shown.note(place, p.holds[place] ? hand.held(p, place) : ""); });
    back();
    render();
    screen.head();
  }

  /* `stale`: another window has the case as it is now. */
  function leave(stale) {
    if (!p) return;
    if (stale !== true) keep();
    p = viewed = null;
    shown.show(null);
    document.documentElement.classList.remove("gs-on");
    one.gs.hidden = one["gs-foot"].hidden = true;
    screen.release();
    kept.list();
    intro.scrollIntoView();
  }

  /* Whether nobody was there for so long that the machine may be another; where a clock ran, since it ended. */
  function absent(now) {
    var waited = timer.until(p, course.shown(p), now);
    if (p.show !== "step" || !p.seen) return false;
    return now - Math.max(p.seen, waited) > data.away * 1000 || (p.seen - now > 60000 && waited !== now);
  }

  /* Somebody looks at the page again: what happened to clock and machine meanwhile? */
  function back() {
    var now = Date.now();
    one["gs-note"].textContent = "";
    if (timer.jumped(p, now, performance.now()) && timer.restart(p, now)) one["gs-note"].textContent = words.jumped;
    timer.look(p, now);
    if (absent(now)) {
      p.since = p.seen;
      course.away(p);
      viewed = null;
    }
    entered = touched = now;
    screen.stayLit();
    keep();
  }

  /* --- what is shown --- */

  function render() {
    drawn = performance.now();
    var place = viewed === null ? course.shown(p) : p.trail[viewed];
    var step = course.steps[place];
    var isStep = viewed !== null || p.show === "step";
    cards(isStep ? null : p);
    one["gs-number"].textContent = say(words.case, { number: p.number });
    screen.bar(p, step.group);
    var acts = { failed: failed, keep: keep, moved: going(course.cool) };
    shown.show(isStep ? place : null, isStep ? hand.show(p, step, viewed !== null, acts) : null);
    one["gs-back"].disabled = viewed === null ? !p.trail.length : viewed === 0;
    one["gs-next"].hidden = !isStep;
    one["gs-next"].textContent = step.h && viewed === null ? words.passed : words.next;
    if (isStep) {
      one["gs-where"].textContent = say(words.where, { phase: course.groups[step.group].name, step: step.n });
      if (viewed !== null) one["gs-note"].textContent = words.was_done;
      else if (p.again.length) one["gs-note"].textContent = words.again_note;
    }
    one["gs-where"].focus({ preventScroll: true });
    one.gs.scrollIntoView();
  }

  function going(act) {
    return function () {
      p.since = p.seen;
      act(p);
      moved();
    };
  }

  function stop() {
    var number = p.number;
    location.hash = "";
    leave();
    kept.said(say(words.stopped, { number: number }));
  }

  /* --- what is done --- */

  function ticks() {
    shown.items.forEach(function (item, place) { shown.tick(place, p.done[place] === true); });
  }

  function moved() {
    one["gs-note"].textContent = "";
    ticks();
    viewed = null;
    entered = Date.now();
    keep();
    render();
  }

  function count(step) {
    var most = Math.max(10, 3 * step.m) * 60000;
    p.spent[step.group] = (p.spent[step.group] || 0) + Math.min(most, Date.now() - entered);
  }

  function next() {
    if (viewed !== null) {
      viewed = viewed + 1 < p.trail.length ? viewed + 1 : null;
      render();
      return;
    }
    if (p.show !== "step") return;
    var step = course.steps[course.shown(p)];
    var held = hand.passed(p, step);
    if (!held) return;
    if (step.h) {
      p.holds[step.place] = held;
      shown.note(step.place, hand.held(p, step.place));
    }
    count(step);
    course.pass(p);
    moved();
  }

  function failed(text) {
    count(course.steps[course.shown(p)]);
    course.fail(p, text);
    moved();
  }

  function before() {
    if (viewed === 0 || !p.trail.length) return;
    viewed = viewed === null ? p.trail.length - 1 : viewed - 1;
    render();
  }

  /* --- the clock, and the hand --- */

  /* A page that stays lit sees nobody; a touch does. */
  function watch() {
    var now = Date.now();
    var kept = p.seen;
    p.seen = Math.min(touched, kept);
    if (absent(now)) {
      back();
      render();
    } else p.seen = kept;
  }

  ["pointerdown", "keydown"].forEach(function (name) {
    document.addEventListener(name, function () {
      if (p) watch();
      touched = Date.now();
    }, true);
  });

  setInterval(function () {
    if (!p || document.hidden) return;
    watch();
    var now = Date.now();
    if (timer.jumped(p, now, performance.now()) && timer.restart(p, now)) one["gs-note"].textContent = words.jumped;
    if (timer.look(p, now)) hand.ring();
    hand.tick(p);
    if (now - p.seen > 20000) keep();
  }, 1000);

  document.addEventListener("visibilitychange", function () {
    if (!p) return;
    if (document.hidden) keep();
    else {
      back();
      render();
    }
  });

  document.addEventListener("keydown", function (event) {
    var other = event.repeat || event.altKey || event.ctrlKey || event.metaKey;
    if (!p || other || event.target.matches("input, textarea, select")) return;
    if (event.key === "ArrowRight") next();
    else if (event.key === "ArrowLeft") before();
  });

  function follow() {
    var number = location.hash.indexOf(mark) === 0 ? location.hash.slice(mark.length) : "";
    if (p && number !== p.number) {
      leave();
      var aim = document.getElementById(location.hash.slice(1));
      if (aim) aim.scrollIntoView();
    }
    var found = !p && number ? store.load(number) : null;
    if (found) open(found);
  }

  /* The second of two quick taps was meant for the step before; a press of a key has no place. */
  one["gs-next"].addEventListener("click", function (event) {
    if (!event.detail || performance.now() - drawn > TWICE) next();
  });
  one["gs-back"].addEventListener("click", before);
  intro.querySelector(".gs-begin").addEventListener("click", begin);
  intro.querySelector(".gs-file").addEventListener("change", function (event) {
    if (event.target.files[0]) kept.openFile(event.target.files[0]);
    event.target.value = "";
  });
  document.querySelector(".gs-save").addEventListener("click", function () {
    kept.saveFile(p);
  });
  document.querySelector(".gs-leave").addEventListener("click", function () {
    location.hash = "";
    leave();
  });
  window.addEventListener("hashchange", follow);
  window.addEventListener("storage", function (event) {
    if (!p || event.key !== store.key(p.number)) return;
    leave(true);
    location.hash = "";
    kept.said(words.elsewhere);
  });
  document.addEventListener("guidegen:standing", function () {
    if (!stopped() && p) screen.head();
  });
  intro.hidden = false;
  kept.list();
  follow();
  window.guidegenSteps = { begin: begin, openFile: kept.openFile };
})();
