/* The way through an instruction: which step comes, after a pass, a failure, a stop, an absence. It touches no page. What
   it follows was decided when the page was made: cases, where a failing side leads, what comes again after a night. */
(function () {
  "use strict";

  function courseOf(data) {
    var groups = data.groups;
    var steps = [];
    groups.forEach(function (group, place) {
      group.steps.forEach(function (step) {
        if (!("a" in step)) step.a = steps.length ? steps[steps.length - 1].a : [];
        step.k = group.id + "/" + step.k;
        step.group = place;
        step.place = steps.length;
        steps.push(step);
      });
    });

    function taken(p, place) {
      return !p.case || !steps[place].c || steps[place].c.indexOf(p.case) >= 0;
    }

    /* The places of a group's steps in this case; of all phases without a group. */
    function placesOf(p, group) {
      return steps
        .filter(function (step) {
          return (group === undefined ? groups[step.group].phase : step.group === group) && taken(p, step.place);
        })
        .map(function (step) {
          return step.place;
        });
    }

    function begin(number, id) {
      var p = {
        format: 1, guide: data.guide, number: number, case: id, at: 0, show: "step", again: [], done: {}, holds: {},
        failed: [], names: {}, spent: {}, timers: {}, trail: [], seen: 0, end: {},
      };
      p.at = placesOf(p)[0];
      return p;
    }

    function shown(p) {
      return p.again.length ? p.again[0] : p.at;
    }

    /* Goes to a step; what is behind it on the main way comes again. */
    function goTo(p, place) {
      var line = placesOf(p);
      p.again = [];
      p.show = "step";
      p.at = place;
      if (!groups[steps[place].group].phase) return;
      p.at = line.find(function (one) { return one >= place; });
      line.forEach(function (one) {
        if (one >= place) delete p.done[one];
      });
    }

    /* A clock counts for one stay at its step; whoever comes there again waits again. */
    function unclock(p, place) {
      Object.keys(p.timers).forEach(function (one) {
        if (one.split(".")[0] === String(place)) delete p.timers[one];
      });
    }

    function pass(p) {
      var place = shown(p);
      unclock(p, place);
      var group = steps[place].group;
      p.done[place] = true;
      p.trail.push(place);
      if (p.again.length) {
        p.again.shift();
        return;
      }
      var own = placesOf(p, group);
      var next = own[own.indexOf(place) + 1];
      if (next !== undefined) p.at = next;
      else if (groups[group].phase) leavePhase(p, place);
      else if (groups[group].then >= 0) goTo(p, groups[group].then);
      else p.show = "ends";
    }

    function leavePhase(p, place) {
      var next = placesOf(p).find(function (one) { return one > place; });
      p.show = next === undefined ? "end" : groups[steps[place].group].stop ? "stop" : "step";
      if (next !== undefined) p.at = next;
    }

    function failures(p, place) {
      return p.failed.filter(function (one) { return one.place === place; }).length;
    }

    function fail(p, reading) {
      var place = shown(p);
      unclock(p, place);
      var aim = steps[place].h.f;
      var remedy = aim >= 0 && !groups[steps[aim].group].phase ? groups[steps[aim].group].name : "";
      p.failed.push({ place: place, reading: reading, helped: "" });
      p.holds[place] = { result: "failed", reading: reading };
      p.trail.push(place);
      if (failures(p, place) >= data.attempts) p.show = "third";
      else if (aim < 0) p.show = "halted";
      else if (p.again.length && !remedy && aim <= place) p.again = between(p, aim, place).concat(p.again.slice(1));
      else goTo(p, aim);
    }

    function between(p, first, last) {
      return placesOf(p, steps[last].group).filter(function (one) { return first <= one && one <= last; });
    }

    /* Whoever was away does again what the step ahead asks for; null: nobody can say what that is. */
    function away(p) {
      var list = steps[p.at].a;
      p.again = list ? list.filter(function (one) { return taken(p, one); }) : [];
      p.again.forEach(function (one) { delete p.done[one]; });
      p.show = list === null ? "unknown" : list.length ? "away" : "step";
    }

    /* From a place where the work stopped: on, to the check that failed, or to the beginning of the phase. */
    function goOn(p) {
      if (p.show === "halted" || p.show === "third" || p.show === "ends") {
        goTo(p, p.failed[p.failed.length - 1].place);
        away(p);
      } else p.show = "step";
    }

    function first(p) {
      return steps[placesOf(p, steps[p.at].group)[0]];
    }

    /* From the beginning of the phase, and what comes again before it. */
    function beginAgain(p) {
      goTo(p, first(p).place);
      p.again = (steps[p.at].a || []).filter(function (one) { return taken(p, one); });
    }

    /* What was cut off was switched on meanwhile: the last wait for safety comes again; where there was none, one asks. */
    function cool(p) {
      var here = shown(p);
      var own = groups[steps[here].group].phase ? [] : placesOf(p, steps[here].group);
      var wait = placesOf(p).concat(own).reverse().find(function (one) {
        return one < here && (steps[one].w || []).some(function (each) { return each[2] === "safety"; });
      });
      if (wait === undefined) {
        p.show = "unknown";
        return;
      }
      unclock(p, wait);
      delete p.done[wait];
      p.again = [wait].concat(p.again);
    }

    /* The steps of the phase ahead by which it makes sure of what a night takes. */
    function looks(p) {
      var own = placesOf(p, steps[p.at].group);
      var again = own.flatMap(function (place) { return steps[place].a || []; });
      return own.filter(function (place) { return again.indexOf(place) >= 0; });
    }

    return {
      steps: steps, groups: groups, begin: begin, shown: shown, pass: pass, fail: fail, away: away, goOn: goOn,
      beginAgain: beginAgain, first: first, cool: cool, looks: looks, placesOf: placesOf, taken: taken,
    };
  }

  window.guidegenCourse = courseOf;
})();
