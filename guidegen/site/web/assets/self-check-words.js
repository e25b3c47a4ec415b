/* What the self-check says of answers: how they read, by how much they miss, whose need a condition is.
   The sentences come from the page; this only puts values into them, and touches nothing. */
(function () {
  "use strict";

  var check = window.guidegenSelfCheck;

  /* Puts values in place of {names}. */
  function say(template, values) {
    return template.replace(/\{(\w+)\}/g, function (whole, name) {
      return name in values ? values[name] : whole;
    });
  }

  /* The first of a list that has this value there. */
  function named(list, key, value) {
    return list.find(function (one) {
      return one[key] === value;
    });
  }

  /* The words for the answers of a state, which has them under `answers`. */
  function wordsOf(payload, state) {
    var rules = payload.rules;
    var words = payload.words;
    var facts = check.factsByName(payload);

    function asked(name) {
      return named(payload.questions, "fact", name);
    }

    function answerText(name) {
      var answer = state.answers[name];
      if (answer.unsure) return answer.photo ? words.photo : words.not_sure;
      if ("is" in answer) {
        var found = named(asked(name).choices, 0, answer.is);
        return found ? found[1] : answer.is;
      }
      var unit = check.unitOf(facts[name], answer.unit);
      return check.writeAnswer(facts[name], answer) + " ± " + check.writeCount(unit.decimals, unit.plus_minus) + " " + unit.unit;
    }

    /* What was asked and answered, in a sentence. */
    function said(name) {
      return say(words.said, { title: asked(name).title, answer: answerText(name) });
    }

    /* The comparisons below a test that an answer does not make true: the fact, its answer, the place among the fact's
       comparisons, and the truth. */
    function untrue(test) {
      if (typeof test === "string") return [];
      if (typeof test[0] !== "number") return check.below(test).flatMap(untrue);
      var fact = rules.facts[test[0]];
      var answer = state.answers[fact.fact];
      var truth = answer ? fact.classes[check.classOf(fact, answer)][test[1]] : "T";
      return truth === "T" ? [] : [{ fact: fact, answer: answer, place: test[1], truth: truth }];
    }

    /* By how much measured answers miss their limits. */
    function numbers(condition) {
      return untrue(condition.test).flatMap(function (one) {
        if (!("count" in one.answer)) return [];
        var unit = check.unitOf(one.fact, one.answer.unit);
        var limit = unit.limits[one.place];
        var low = limit[0] !== null && (limit[1] === null || one.answer.count < limit[0]);
        var bound = low ? limit[0] : limit[1];
        if (bound === null) return [];
        return say(words[(low ? "low_" : "high_") + one.truth.replace("?", "U")], {
          title: asked(one.fact.fact).title,
          answer: answerText(one.fact.fact),
          limit: check.writeCount(unit.decimals, Math.max(0, bound)) + " " + unit.unit,
          gap: check.writeCount(unit.decimals, Math.abs(one.answer.count - bound)) + " " + unit.unit,
        });
      });
    }

    /* What was picked from answers where it speaks against a condition, and what would hold; each once. */
    function picked(condition, wording) {
      var lines = untrue(condition.test).flatMap(function (one) {
        var name = one.fact.fact;
        if (!("is" in one.answer)) return [];
        return say(words.picked, { title: asked(name).title, answer: answerText(name), wanted: wording.wanted });
      });
      return Array.from(new Set(lines));
    }

    /* The answers that hide what a test speaks of, a sentence each. */
    function hiders(test) {
      if (typeof test === "string" || typeof test[0] === "number") return [];
      if (test[0] !== "unless") return test.slice(1).flatMap(hiders);
      var fact = rules.facts[test[2]];
      var way = check.classOf(fact, state.answers[fact.fact]);
      var further = hiders(test[1]);
      if (way === null || test.indexOf(way, 3) < 0) return further;
      return further.concat(say(words.hidden, { title: asked(fact.fact).title, answer: answerText(fact.fact) }));
    }

    /* Whether only the workshop can make an answer clearer. */
    function beyond(name) {
      var fact = facts[name];
      return (fact.beyond || []).indexOf(check.classOf(fact, state.answers[name])) >= 0;
    }

    /* What an answer has against a condition: that it hides what is asked, else as the variant's data say it, else
       measured, else picked. */
    function against(id) {
      var wording = named(payload.conditions, "id", id);
      var condition = named(rules.conditions, "id", id);
      var hidden = Array.from(new Set(hiders(condition.test)));
      if (hidden.length) return hidden;
      if (wording.detail) return [wording.detail];
      var lines = numbers(condition);
      return lines.length ? lines : picked(condition, wording);
    }

    /* Which list a reason stands in: what is not known, what can be put right, what bars the kit, or a remedy only. */
    function kindOf(id, unmet) {
      if (!unmet.has(id)) return "open";
      return whose(id) ? "ruled_out" : helped(id, unmet) ? "mendable" : "bars";
    }

    /* Whether what is unmet has a remedy of which nothing that it needs is in the way for good. */
    function helped(id, unmet) {
      var condition = named(rules.conditions, "id", id);
      return condition.remedies.some(function (remedy) {
        return remedy.needs.every(function (place) {
          var need = rules.conditions[place].id;
          return !unmet.has(need) || helped(need, unmet);
        });
      });
    }

    /* Whose need a condition is: of the kit itself, or of a remedy. */
    function whose(id) {
      var place = rules.conditions.findIndex(function (one) {
        return one.id === id;
      });
      if (rules.roots.indexOf(place) >= 0) return "";
      for (var condition of rules.conditions) {
        var remedy = condition.remedies.find(function (one) {
          return one.needs.indexOf(place) >= 0;
        });
        if (remedy) return say(words.whose, { name: named(payload.remedies, "id", remedy.id).name });
      }
      return "";
    }

    return { asked: asked, answerText: answerText, said: said, against: against, whose: whose, kindOf: kindOf, beyond: beyond };
  }

  window.guidegenSelfCheckWords = { of: wordsOf, say: say, named: named };
})();
