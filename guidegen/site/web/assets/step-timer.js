/* Waits and watch times. One stores its end as a moment, so it survives a reload. It wakes nobody: whoever looks sees the
   end as a time of day. Where the clock was set back, or ran otherwise than time did while one looked, waits for safety
   begin again, and others are forgotten. */
(function () {
  "use strict";

  var JUMP = 30000;
  var last = null;

  /* Whether the device's clock jumped since it was looked at last; `steady` is a count that nobody sets. */
  function jumped(p, now, steady) {
    var before = last;
    last = document.hidden ? null : { now: now, steady: steady };
    var back = p.seen - now > JUMP;
    return back || (before !== null && Math.abs(now - before.now - (steady - before.steady)) > JUMP);
  }

  document.addEventListener("visibilitychange", function () {
    last = null;
  });

  function name(place, index) {
    return place + "." + index;
  }

  function start(p, place, index, seconds, kind, now) {
    p.timers[name(place, index)] = { ends: now + seconds * 1000, seconds: seconds, kind: kind, over: false };
  }

  function of(p, place, index) {
    return p.timers[name(place, index)] || null;
  }

  /* Until when something was waited for at a step: till now where a clock runs; 0 where there was nothing. */
  function until(p, place, now) {
    var ends = Object.keys(p.timers).map(function (one) {
      var timer = p.timers[one];
      if (one.split(".")[0] !== String(place)) return 0;
      return timer.ends <= now ? timer.ends : timer.over ? 0 : now;
    });
    return Math.max.apply(null, [0].concat(ends));
  }

  /* Notes what has ended; returns whether anything did just now. */
  function look(p, now) {
    return (
      Object.values(p.timers).filter(function (one) {
        var ends = !one.over && now >= one.ends;
        if (ends) one.over = true;
        return ends;
      }).length > 0
    );
  }

  /* After a jump of the clock. Returns whether a wait for safety began again. */
  function restart(p, now) {
    var again = false;
    Object.keys(p.timers).forEach(function (one) {
      var timer = p.timers[one];
      if (timer.over) return;
      if (timer.kind !== "safety") delete p.timers[one];
      else {
        timer.ends = now + timer.seconds * 1000;
        again = true;
      }
    });
    return again;
  }

  function two(number) {
    return String(number).padStart(2, "0");
  }

  function day(moment) {
    return moment.getFullYear() + "-" + two(moment.getMonth() + 1) + "-" + two(moment.getDate());
  }

  /* A moment as a time of day, with its date where that is another day. */
  function clock(at, now) {
    var moment = new Date(at);
    var time = two(moment.getHours()) + ":" + two(moment.getMinutes());
    return day(moment) === day(new Date(now)) ? time : day(moment) + " " + time;
  }

  function left(milliseconds) {
    var seconds = Math.max(0, Math.ceil(milliseconds / 1000));
    var hours = Math.floor(seconds / 3600);
    var minutes = Math.floor(seconds / 60) % 60;
    return (hours ? hours + ":" + two(minutes) : minutes) + ":" + two(seconds % 60);
  }

  window.guidegenTimer = {
    jumped: jumped, start: start, of: of, until: until, look: look, restart: restart, clock: clock, left: left, day: day,
  };
})();
