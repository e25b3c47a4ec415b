/* Readings against limits: says what judge/safety/measure.py and judge/builds/reading.py in guidegen say, under the same
   names; tests compare the two. It touches no page. `units` are rows of a spelling, a dimension, factor and offset. */
(function () {
  "use strict";

  var NUMBER = "([0-9]+(?:\\.[0-9]+)?(?:/[1-9][0-9]*)?)";
  var WRITTEN = new RegExp("^\\s*" + NUMBER + "\\s*([^0-9±]*?)\\s*(?:±\\s*" + NUMBER + "\\s*([^0-9±]*))?$");
  var ALIKE = 1e-9;

  function readingOf(units) {
    function rowOf(unit) {
      return (
        units.find(function (row) {
          return unit !== "" && row[0] === unit;
        }) || (/^[a-z][a-z -]+$/.test(unit) ? [unit, "count", 1, 0] : null)
      );
    }

    function number(text) {
      var parts = text.split("/");
      return Number(parts[0]) / Number(parts[1] || 1);
    }

    function measured(text) {
      var match = WRITTEN.exec(text.replace(/\u202f/g, " ").replace(/\bpH ([0-9]+(?:\.[0-9]+)?)/g, "$1 pH"));
      if (!match) return null;
      var row = rowOf(match[2].replace(/~$/, "").replace(/⎓$/, "").trim());
      var wide = match[3] === undefined ? row : rowOf((match[4] || "").trim() || (row ? row[0] : ""));
      if (!row || !wide || wide[1] !== row[1]) return null;
      var width = match[3] ? number(match[3]) * (wide[2] / row[2]) * row[2] : 0;
      var value = number(match[1]) * row[2] + row[3];
      return { unit: row[0], dimension: row[1], value: value, low: value - width, high: value + width };
    }

    /* A reading that can be compared with a limit, or null; a bare number counts the limit's things. */
    function reads(limit, reading) {
      var bound = measured(limit);
      if (!bound) return null;
      var bare = bound.dimension === "count" && /^[0-9]{1,6}$/.test(reading);
      var found = measured(bare ? reading + " " + bound.unit : reading);
      return found && found.dimension === bound.dimension ? found : null;
    }

    function close(one, other) {
      return Math.abs(one - other) <= ALIKE * Math.max(Math.abs(one), Math.abs(other));
    }

    /* Whether a reading is within its limit; exactly on it is within. */
    function accepted(sense, limit, reading) {
      var bound = measured(limit);
      var value = reads(limit, reading).value;
      if (sense === "at_most") return value <= bound.value || close(value, bound.value);
      if (sense === "at_least") return value >= bound.value || close(value, bound.value);
      return (bound.low <= value && value <= bound.high) || close(value, bound.low) || close(value, bound.high);
    }

    /* Whether a hold point passes on a written reading alone. */
    function wants(hold) {
      var limit = hold.r ? measured(hold.l) : null;
      return limit !== null && limit.dimension !== "count";
    }

    return { measured: measured, reads: reads, accepted: accepted, wants: wants };
  }

  window.guidegenReading = readingOf;
})();
