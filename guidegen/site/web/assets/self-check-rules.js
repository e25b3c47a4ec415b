/* The rules of the self-check: answers in, a verdict out. It says what walk.py and answers.py in
   guidegen/judge/fit say, under the same names; tests compare the two. It touches no page, converts nothing and sends nothing. */
(function () {
  "use strict";

  var decide = window.guidegenSelfCheckDeciding;

  function walk(rules, answers) {
    var facts = rules.facts;
    var ways = new Map();
    var branch = rules.top;
    while (branch >= 0) {
      var node = rules.nodes[branch];
      var fact = node[0];
      var way = classOf(facts[fact], answers[facts[fact].fact]);
      if (way === null) {
        return { ask: facts[fact].fact, asked: names(facts, ways), outcome: null, reasons: [], remedies: [], decide: null };
      }
      ways.set(fact, way);
      branch = node[1 + way];
    }
    var outcome = rules.outcomes[-1 - branch];
    var truths = rules.conditions.map(function (one) {
      return truthOf(rules, one.test, ways);
    });
    var row = rules.sufficient.table[keyOf(rules, truths)];
    return {
      ask: null,
      asked: names(facts, ways),
      outcome: outcome,
      reasons: reasonsOf(rules, truths, ways),
      remedies: outcome === "fits-with-conditions" && row !== undefined ? rules.sufficient.sets[row] : [],
      decide: outcome === "cannot-tell-yet" ? decide(rules, ways) : null,
    };
  }

  function names(facts, ways) {
    return Array.from(ways.keys(), function (place) {
      return facts[place].fact;
    });
  }

  function classOf(fact, answer) {
    if (!answer) return null;
    if (answer.unsure === true) return fact.unsure;
    if ("is" in answer) return Object.hasOwn(fact.choices, answer.is) ? fact.choices[answer.is] : null;
    if (!Number.isInteger(answer.count) || answer.count < 0) return null;
    var unit = unitOf(fact, answer.unit);
    if (!unit) return null;
    return wayOf(unit, answer.count);
  }

  function unitOf(fact, name) {
    return fact.units.find(function (unit) {
      return unit.unit === name;
    });
  }

  function truthOf(rules, test, ways) {
    if (typeof test === "string") return test === "-" ? "?" : test;
    if (typeof test[0] === "number") {
      return ways.has(test[0]) ? rules.facts[test[0]].classes[ways.get(test[0])][test[1]] : "?";
    }
    if (test[0] === "unless") return hides(test, ways) ? "?" : truthOf(rules, test[1], ways);
    var decides = test[0] === "all" ? "F" : "T";
    var truths = test.slice(1).map(function (member) {
      return truthOf(rules, member, ways);
    });
    if (truths.indexOf(decides) >= 0) return decides;
    if (truths.indexOf("?") >= 0) return "?";
    return decides === "F" ? "T" : "F";
  }

  function reasonsOf(rules, truths, ways) {
    var found = new Map();
    (function look(places) {
      places.forEach(function (place) {
        var condition = rules.conditions[place];
        if (truths[place] === "T") return;
        if ((truths[place] === "F" || answered(condition.test, ways)) && !found.has(condition.id)) {
          found.set(condition.id, truths[place]);
        }
        condition.remedies.forEach(function (remedy) {
          look(remedy.needs);
        });
      });
    })(rules.roots);
    return Array.from(found);
  }

  function answered(test, ways) {
    var facts = askedIn(test);
    function isAnswered(fact) {
      return ways.has(fact);
    }
    return !facts.length || facts.some(isAnswered) || isHidden(test, ways);
  }

  function askedIn(test) {
    if (typeof test === "string") return test === "-" ? [-1] : [];
    return typeof test[0] === "number" ? [test[0]] : below(test).flatMap(askedIn);
  }

  function isHidden(test, ways) {
    if (typeof test === "string" || typeof test[0] === "number") return false;
    if (test[0] === "unless" && hides(test, ways)) return true;
    return below(test).some(function (member) {
      return isHidden(member, ways);
    });
  }

  function below(test) {
    return test[0] === "unless" ? [test[1]] : test.slice(1);
  }

  function hides(test, ways) {
    return test.indexOf(ways.get(test[2]), 3) >= 0;
  }

  function keyOf(rules, truths) {
    var wanted = new Set();
    (function look(places) {
      places.forEach(function (place) {
        wanted.add(place);
        if (truths[place] !== "F") return;
        rules.conditions[place].remedies.forEach(function (remedy) {
          look(remedy.needs);
        });
      });
    })(rules.roots);
    return rules.sufficient.conditions
      .map(function (place) {
        return wanted.has(place) ? truths[place] : "-";
      })
      .join("");
  }

  /* --- answers as text --- */

  function readCount(unit, text) {
    var match = /^(\d{1,8})(?:[.,](\d{1,6}))?$/.exec(text.trim());
    if (!match) return { error: "number" };
    var decimals = (match[2] || "").replace(/0+$/, "");
    if (decimals.length > unit.decimals) return { error: "fine" };
    var count = Number(match[1] + decimals.padEnd(unit.decimals, "0"));
    return count > 10000000 ? { error: "number" } : { count: count };
  }

  var PARTS_OF_AN_INCH = [2, 4, 8, 16, 32, 64];

  /* Inches are also read as a ruler shows them, where both counts beside a fraction are judged alike. */
  function readNumber(unit, text) {
    if (unit.unit !== "in") return readCount(unit, text);
    var written = text.trim().replace(/"$/, "").replace(/″$/, "").trim();
    var match = /^(?:(\d{1,3})[ -])?(\d{1,2})\/(\d{1,2})$/.exec(written);
    if (!match) return readCount(unit, written);
    var above = Number(match[2]);
    var parts = Number(match[3]);
    if (PARTS_OF_AN_INCH.indexOf(parts) < 0 || above < 1 || above >= parts) return { error: "number" };
    // Powers of two below 64 and of ten up to 10^6: exact in a script's numbers.
    var count = (Number(match[1] || 0) + above / parts) * Math.pow(10, unit.decimals);
    var low = Math.floor(count);
    if (wayOf(unit, low) !== wayOf(unit, Math.ceil(count))) return { error: "close" };
    return { count: count - low <= 0.5 ? low : low + 1 };
  }

  function wayOf(unit, count) {
    return unit.ways[
      unit.cuts.filter(function (cut) {
        return cut <= count;
      }).length
    ];
  }

  function example(unit) {
    return writeCount(unit.decimals, Math.floor((unit.plausible[0] + unit.plausible[1]) / 2));
  }

  function isPlausible(fact, answer) {
    if (!("count" in answer)) return true;
    var ends = unitOf(fact, answer.unit).plausible;
    return ends[0] <= answer.count && answer.count <= ends[1];
  }

  function writeCount(decimals, count) {
    var digits = String(count).padStart(decimals + 1, "0");
    return decimals ? digits.slice(0, -decimals) + "." + digits.slice(-decimals) : digits;
  }

  function readAnswer(fact, text) {
    if (text === "not-sure" || text === "photo") return { unsure: true, photo: text === "photo" };
    if (Object.keys(fact.choices).length) return Object.hasOwn(fact.choices, text) ? { is: text } : null;
    var units = fact.units.slice().sort(function (one, other) {
      return other.unit.length - one.unit.length;
    });
    for (var unit of units) {
      if (!text.endsWith(unit.unit)) continue;
      var found = readNumber(unit, text.slice(0, text.length - unit.unit.length));
      return "count" in found ? { unit: unit.unit, count: found.count } : null;
    }
    return null;
  }

  function writeAnswer(fact, answer) {
    if (answer.unsure) return answer.photo ? "photo" : "not-sure";
    if ("is" in answer) return answer.is;
    return (writeCount(unitOf(fact, answer.unit).decimals, answer.count) + " " + answer.unit).trim();
  }

  function factsByName(payload) {
    return Object.fromEntries(
      payload.rules.facts.map(function (fact) {
        return [fact.fact, fact];
      })
    );
  }

  function writeLink(payload, answers, asked) {
    var facts = factsByName(payload);
    var parts = asked.map(function (name) {
      return name + ":" + encodeURIComponent(writeAnswer(facts[name], answers[name]));
    });
    return "#check=" + [encodeURIComponent(payload.pair.edition)].concat(parts).join(";");
  }

  function readLink(payload, hash) {
    if (hash.indexOf("#check=") !== 0) return null;
    var facts = factsByName(payload);
    var parts = hash.slice(7).split(";");
    var answers = {};
    try {
      parts.slice(1).forEach(function (part) {
        var place = part.indexOf(":");
        var name = part.slice(0, place);
        if (!Object.hasOwn(facts, name)) return;
        var answer = readAnswer(facts[name], decodeURIComponent(part.slice(place + 1)));
        if (answer && isPlausible(facts[name], answer)) answers[name] = answer;
      });
      return { edition: decodeURIComponent(parts[0]), answers: answers };
    } catch (broken) {
      return null;
    }
  }

  window.guidegenSelfCheck = {
    walk, classOf, below, hides, unitOf, factsByName, isPlausible, readNumber, example, writeCount, readAnswer, writeAnswer, writeLink, readLink,
  };
})();
