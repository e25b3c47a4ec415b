/* The text of an order, as order.py and order_words.py in guidegen/judge/fit write it; tests compare the two.
   It touches no page and sends nothing. */
(function () {
  "use strict";

  var check = window.guidegenSelfCheck;

  function plain(text) {
    return text.trim().split(/\s+/).join(" ");
  }

  function upper(text) {
    return text.slice(0, 1).toUpperCase() + text.slice(1);
  }

  /* Words by key; with the key in brackets where other things have the same words. */
  function toldApart(pairs) {
    var said = pairs.map(function (pair) {
      return plain(pair[1]);
    });
    return Object.fromEntries(
      pairs.map(function (pair, place) {
        var alone = said.indexOf(said[place]) === said.lastIndexOf(said[place]);
        return [pair[0], alone ? said[place] : said[place] + " (" + pair[0] + ")"];
      })
    );
  }

  /* What an order calls things. */
  function orderWords(payload) {
    function by(list, key, text) {
      return toldApart(
        list.map(function (one) {
          return [one[key], text(one)];
        })
      );
    }
    return {
      titles: by(payload.questions, "fact", function (one) {
        return upper(one.title);
      }),
      conditions: by(payload.conditions, "id", function (one) {
        return one.says;
      }),
      remedies: by(payload.remedies, "id", function (one) {
        return one.name;
      }),
    };
  }

  function answerInOrder(payload, fact, answer) {
    var written = check.writeAnswer(fact, answer);
    if (answer.unsure) return payload.words.order.unsure[written];
    var question = payload.questions.find(function (one) {
      return one.fact === fact.fact;
    });
    return "is" in answer ? toldApart(question.choices)[written] || written : written;
  }

  function writeOrder(payload, answers, choice) {
    var order = payload.words.order;
    var found = check.walk(payload.rules, answers);
    var facts = check.factsByName(payload);
    var pair = payload.pair;
    var said = orderWords(payload);
    var chosen = found.remedies.length ? found.remedies[choice] : null;
    var keys = [pair.variant, pair.kit, pair.revision, pair.edition, pair.rules];
    var lines = [
      order.title,
      "Machine: " + plain(pair.variant_name),
      "Kit: " + plain(pair.kit_name) + ", revision " + pair.revision,
      "Reference: " + keys.join(" / "),
      "",
      "Answers:",
    ];
    found.asked.forEach(function (name) {
      lines.push(said.titles[name] + ": " + answerInOrder(payload, facts[name], answers[name]));
    });
    /* What only a remedy needs is no requirement of the kit, and reads like the opposite of one. */
    function isOfKit(reason) {
      return payload.rules.roots.some(function (place) {
        return payload.rules.conditions[place].id === reason[0];
      });
    }
    lines.push("", "Outcome: " + order.outcomes[found.outcome]);
    found.reasons.filter(isOfKit).forEach(function (reason) {
      lines.push((reason[1] === "F" ? "Not met: " : "Not known: ") + said.conditions[reason[0]]);
    });
    if (chosen) {
      lines.push(
        "Remedies: " +
          chosen.remedies
            .map(function (name) {
              return said.remedies[name];
            })
            .join(" + ")
      );
      chosen.provided.forEach(function (name) {
        lines.push("Provided that: " + said.conditions[name]);
      });
    }
    lines.push("");
    return lines.concat(toOrder(payload, found, chosen)).join("\n") + "\n";
  }

  function toOrder(payload, found, chosen) {
    if (found.outcome !== "fits" && found.outcome !== "fits-with-conditions") return [payload.words.order.nothing];
    var lines = ["To order:"].concat(payload.parts[""]);
    (chosen ? chosen.remedies : []).forEach(function (remedy) {
      lines = lines.concat(payload.parts[remedy] || []);
    });
    return lines;
  }

  /* What is paid for: the kit, kits that go on first, and parts of the kit as "kit/part". */
  function ordered(payload, found, chosen) {
    if (found.outcome !== "fits" && found.outcome !== "fits-with-conditions") return [];
    return [payload.pair.kit].concat(
      (chosen ? chosen.remedies : []).flatMap(function (remedy) {
        var place = remedy.indexOf(":");
        var name = remedy.slice(place + 1);
        var kind = remedy.slice(0, place);
        return kind === "kit" ? [name] : kind === "part" ? [payload.pair.kit + "/" + name] : [];
      })
    );
  }

  Object.assign(check, { writeOrder, toOrder, ordered });
})();
