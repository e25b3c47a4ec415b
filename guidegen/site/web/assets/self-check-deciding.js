/* Where the outcome of the self-check is not clear: what is cheapest to find out. It says what deciding.py in guidegen/judge/fit
   says, under the same names; tests compare the two. It touches no page. */
(function () {
  "use strict";

  var MOST_TRIED = 12;

  function decide(rules, ways) {
    var facts = rules.facts;
    var given = facts.map(function (fact, place) {
      return [ways.has(place) ? ways.get(place) : fact.unsure];
    });
    var finer = new Map();
    facts.forEach(function (fact, place) {
      var found = clearer(fact, given[place][0]);
      if (found.length) finer.set(place, found);
    });
    var best = cheapest(rules, given, finer);
    if (!best) return { first: null, needed: [] };
    best.sort(function (one, other) {
      return facts[one].minutes - facts[other].minutes || one - other;
    });
    var unclear = unclearOf(rules);
    var alone = best.filter(function (place) {
      var found = ends(rules, settling(given, finer, [place]));
      return found.size > 1 || !found.has(unclear);
    });
    return {
      first: facts[(alone.length ? alone : best)[0]].fact,
      needed: best.map(function (place) {
        return facts[place].fact;
      }),
    };
  }

  function clearer(fact, way) {
    if (fact.definite.indexOf(way) >= 0 || (fact.beyond || []).indexOf(way) >= 0) return [];
    var now = fact.classes[way];
    return fact.definite.filter(function (one) {
      return Array.from(now).every(function (old, place) {
        return old === "?" || old === fact.classes[one][place];
      });
    });
  }

  function cheapest(rules, given, finer) {
    var open = Array.from(finer.keys());
    function decides(chosen) {
      return !ends(rules, settling(given, finer, chosen)).has(unclearOf(rules));
    }
    var needed = open.filter(function (place) {
      return !decides(open.filter(function (one) {
        return one !== place;
      }));
    });
    var others = open.filter(function (place) {
      return needed.indexOf(place) < 0;
    });
    if (others.length > MOST_TRIED) {
      needed = open;
      others = [];
    }
    var best = null;
    var bestMinutes = 0;
    for (var mask = 0; mask < 1 << others.length; mask += 1) {
      var chosen = open.filter(function (place) {
        var bit = others.indexOf(place);
        return bit < 0 || (mask >> bit) & 1;
      });
      var minutes = chosen.reduce(function (sum, place) {
        return sum + rules.facts[place].minutes;
      }, 0);
      if (!chosen.length) continue;
      if (best && (minutes > bestMinutes || (minutes === bestMinutes && chosen.length >= best.length))) continue;
      if (!decides(chosen)) continue;
      best = chosen;
      bestMinutes = minutes;
    }
    return best;
  }

  function unclearOf(rules) {
    return -1 - rules.outcomes.indexOf("cannot-tell-yet");
  }

  function settling(given, finer, chosen) {
    return given.map(function (one, place) {
      return chosen.indexOf(place) < 0 ? one : finer.get(place);
    });
  }

  function ends(rules, allowed) {
    var seen = new Set();
    var found = new Set();
    var waiting = [rules.top];
    while (waiting.length) {
      var branch = waiting.pop();
      if (branch < 0) found.add(branch);
      else if (!seen.has(branch)) {
        seen.add(branch);
        allowed[rules.nodes[branch][0]].forEach(function (way) {
          waiting.push(rules.nodes[branch][1 + way]);
        });
      }
    }
    return found;
  }

  window.guidegenSelfCheckDeciding = decide;
})();
