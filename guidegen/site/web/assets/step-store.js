/* Progress on this device, under a case number, and as a file. Nothing is sent. A device that stores nothing costs only
   that: the work goes on, and the file still can be saved. */
(function () {
  "use strict";

  var SIGNS = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789";
  var KINDS = { again: Array.isArray, failed: Array.isArray, trail: Array.isArray };
  var SHOWS = ["step", "stop", "away", "unknown", "halted", "third", "ends", "end"];

  function storeOf(data, steps) {
    var guide = data.guide;
    var prefix = "guidegen.steps." + guide.ticks + ".";

    function newNumber() {
      return Array.from(crypto.getRandomValues(new Uint8Array(4)), function (one) {
        return SIGNS[one % SIGNS.length];
      }).join("");
    }

    function key(number) {
      return prefix + number;
    }

    function save(p) {
      try {
        localStorage.setItem(key(p.number), JSON.stringify(p));
        return true;
      } catch (refused) {
        return false;
      }
    }

    function load(number) {
      try {
        return read(localStorage.getItem(key(number)) || "");
      } catch (refused) {
        return null;
      }
    }

    function forget(number) {
      try {
        localStorage.removeItem(key(number));
      } catch (refused) {
        /* Then there was nothing. */
      }
    }

    function kept() {
      try {
        return Object.keys(localStorage)
          .filter(function (name) { return name.startsWith(prefix); })
          .map(function (name) { return load(name.slice(prefix.length)); })
          .filter(Boolean)
          .sort(function (one, other) { return other.seen - one.seen; });
      } catch (refused) {
        return [];
      }
    }

    function place(one) {
      return Number.isInteger(one) && one >= 0 && one < steps.length;
    }

    /* Progress from text, or null where it is none of this guide in this edition. */
    function read(text) {
      var p;
      try {
        p = JSON.parse(text);
      } catch (broken) {
        return null;
      }
      if (!p || p.format !== 1 || !p.guide || !/^[A-Z0-9]{4}$/.test(p.number) || !place(p.at)) return null;
      var same = ["variant", "kit", "revision", "edition", "steps"].every(function (name) { return p.guide[name] === guide[name]; });
      var whole = ["done", "holds", "names", "spent", "timers", "end"].every(function (name) {
        return p[name] && typeof p[name] === "object";
      });
      var lists = Object.keys(KINDS).every(function (name) { return KINDS[name](p[name]); });
      if (!same || !whole || !lists || SHOWS.indexOf(p.show) < 0) return null;
      var sound = p.again.concat(p.trail, p.failed.map(function (one) { return one && one.place; })).every(place);
      var known = data.cases.some(function (one) { return one.id === p.case; }) || p.case === "";
      return sound && known && typeof p.seen === "number" ? p : null;
    }

    /* Whether a text is progress of the same guide in another edition. */
    function elsewhere(text) {
      try {
        var other = JSON.parse(text).guide;
        return other.variant === guide.variant && other.kit === guide.kit ? other.edition : null;
      } catch (broken) {
        return null;
      }
    }

    return {
      newNumber: newNumber, key: key, save: save, load: load, forget: forget, kept: kept, read: read, elsewhere: elsewhere,
    };
  }

  window.guidegenStore = storeOf;
})();
