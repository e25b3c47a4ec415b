/* What answers say about the variant, in whichever order they came: who is left, and which contradict. It says what
   identified.py in guidegen/judge/fit says, under the same names; tests compare the two. It touches no page. */
(function () {
  "use strict";

  var check = window.guidegenSelfCheck;
  var NOT_KNOWN = -1;
  var NOT_STATED = -2;

  function identified(rules, shows, answers) {
    var found = check.walk(rules, answers);
    var left = leftOf(rules, shows, givenOf(rules, answers));
    var asked = found.asked.slice();
    rules.facts.forEach(function (fact) {
      if (check.classOf(fact, answers[fact.fact]) !== null && asked.indexOf(fact.fact) < 0) asked.push(fact.fact);
    });
    return {
      ask: left.length > 1 ? found.ask : null,
      asked: asked,
      left: left,
      against: left.length ? [] : contradicting(rules, shows, answers),
    };
  }

  function contradicting(rules, shows, answers) {
    var given = givenOf(rules, answers);
    Array.from(given.keys()).forEach(function (place) {
      var without = new Map(given);
      without.delete(place);
      if (!leftOf(rules, shows, without).length) given = without;
    });
    var names = Array.from(given.keys(), function (place) {
      return rules.facts[place].fact;
    });
    var strange = names.some(function (name) {
      return answers[name].is === "something-else";
    });
    return strange || names.length < 2 ? [] : names;
  }

  function agrees(letters, shown) {
    if (shown === NOT_KNOWN) return true;
    return shown === NOT_STATED ? letters.indexOf("T") < 0 : letters[shown] !== "F";
  }

  function givenOf(rules, answers) {
    var found = new Map();
    rules.facts.forEach(function (fact, place) {
      var way = check.classOf(fact, answers[fact.fact]);
      if (way !== null && way !== fact.unsure) found.set(place, way);
    });
    return found;
  }

  function leftOf(rules, shows, given) {
    var left = [];
    for (var one = 0; one < (shows.length ? shows[0].length : 0); one += 1) {
      var agreeing = Array.from(given.entries()).every(function (pair) {
        return agrees(rules.facts[pair[0]].classes[pair[1]], shows[pair[0]][one]);
      });
      if (agreeing) left.push(one);
    }
    return left;
  }

  window.guidegenSelfCheckWhich = { identified: identified };
})();
