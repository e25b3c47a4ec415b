/* The self-check: asks one question at a time, walks the compiled rules, tells the outcome and the order.
   Nothing is converted and nothing is sent. The first part is pure and says what guidegen/fit/walk.py says, under the
   same names; tests compare the two. Without this script the page is a form to print. */
(function () {
  "use strict";

  /* --- pure: rules and answers in, a verdict out ------------------------------------------------------ */

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
    var row = rules.mending.table[keyOf(rules, truths)];
    return {
      ask: null,
      asked: names(facts, ways),
      outcome: outcome,
      reasons: reasonsOf(rules, truths, ways),
      remedies: outcome === "fits-with-conditions" && row !== undefined ? rules.mending.sets[row] : [],
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
    return unit.ways[
      unit.cuts.filter(function (cut) {
        return cut <= answer.count;
      }).length
    ];
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
        if ((truths[place] === "F" || told(condition.test, ways)) && !found.has(condition.id)) {
          found.set(condition.id, truths[place]);
        }
        condition.remedies.forEach(function (remedy) {
          look(remedy.needs);
        });
      });
    })(rules.roots);
    return Array.from(found);
  }

  function told(test, ways) {
    if (typeof test === "string") return test !== "-";
    if (typeof test[0] === "number") return ways.has(test[0]);
    return test.slice(1).some(function (member) {
      return typeof member !== "string" && told(member, ways);
    });
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
    return rules.mending.conditions
      .map(function (place) {
        return wanted.has(place) ? truths[place] : "-";
      })
      .join("");
  }

  function decide(rules, ways) {
    var facts = rules.facts;
    var unclear = -1 - rules.outcomes.indexOf("cannot-tell-yet");
    var given = facts.map(function (fact, place) {
      return [ways.has(place) ? ways.get(place) : fact.unsure];
    });
    var open = [];
    facts.forEach(function (fact, place) {
      if (fact.definite.length && fact.definite.indexOf(given[place][0]) < 0) open.push(place);
    });
    var best = null;
    var bestMinutes = 0;
    for (var mask = 1; mask < 1 << open.length; mask += 1) {
      var chosen = open.filter(function (place, bit) {
        return (mask >> bit) & 1;
      });
      var minutes = chosen.reduce(function (sum, place) {
        return sum + facts[place].minutes;
      }, 0);
      if (best && (minutes > bestMinutes || (minutes === bestMinutes && chosen.length >= best.length))) continue;
      if (ends(rules, settling(rules, given, chosen)).has(unclear)) continue;
      best = chosen;
      bestMinutes = minutes;
    }
    if (!best) return { first: null, needed: [] };
    var cheapest = best.slice().sort(function (one, other) {
      return facts[one].minutes - facts[other].minutes || one - other;
    });
    var alone = cheapest.filter(function (place) {
      var found = ends(rules, settling(rules, given, [place]));
      return found.size > 1 || !found.has(unclear);
    });
    return {
      first: facts[(alone.length ? alone : cheapest)[0]].fact,
      needed: cheapest.map(function (place) {
        return facts[place].fact;
      }),
    };
  }

  function settling(rules, given, chosen) {
    return given.map(function (one, place) {
      return chosen.indexOf(place) < 0 ? one : rules.facts[place].definite;
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

  /* --- pure: answers as text; guidegen/fit/answers.py and order.py ----------------------------------- */

  function readCount(unit, text) {
    var match = /^(\d{1,8})(?:[.,](\d{1,6}))?$/.exec(text.trim());
    if (!match) return { error: "number" };
    var decimals = (match[2] || "").replace(/0+$/, "");
    if (decimals.length > unit.decimals) return { error: "fine" };
    var count = Number(match[1] + decimals.padEnd(unit.decimals, "0"));
    return count > 10000000 ? { error: "number" } : { count: count };
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
      var found = readCount(unit, text.slice(0, text.length - unit.unit.length));
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
    var found = {};
    payload.rules.facts.forEach(function (fact) {
      found[fact.fact] = fact;
    });
    return found;
  }

  function writeOrder(payload, answers, choice) {
    var words = payload.words;
    var found = walk(payload.rules, answers);
    var facts = factsByName(payload);
    var pair = payload.pair;
    var chosen = found.remedies.length ? found.remedies[choice] : null;
    var lines = [
      words.order.title,
      "Machine: " + pair.variant + " (" + pair.variant_name + ")",
      "Kit: " + pair.kit + ", revision " + pair.revision + " (" + pair.kit_name + ")",
      "Edition: " + pair.edition + ", rules " + pair.rules,
      "",
      "Answers:",
    ];
    found.asked.forEach(function (name) {
      lines.push(name + " = " + writeAnswer(facts[name], answers[name]));
    });
    lines.push("", "Outcome: " + words.order.outcomes[found.outcome]);
    found.reasons.forEach(function (reason) {
      lines.push((reason[1] === "F" ? "Not met: " : "Not known: ") + reason[0]);
    });
    if (chosen) {
      lines.push("Remedies: " + chosen.remedies.join(" + "));
      chosen.provided.forEach(function (name) {
        lines.push("Provided that: " + name);
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
        if (answer) answers[name] = answer;
      });
      return { edition: decodeURIComponent(parts[0]), answers: answers };
    } catch (broken) {
      return null;
    }
  }

  /* Tests walk the rules in a browser through this; pages do not use it. */
  window.guidegenSelfCheck = { walk: walk, writeOrder: writeOrder, writeLink: writeLink, readLink: readLink };

  /* --- the page -------------------------------------------------------------------------------------- */

  function start(section) {
    var payload = JSON.parse(section.querySelector("script[type='application/json']").textContent);
    var rules = payload.rules;
    var words = payload.words;
    var facts = factsByName(payload);
    var form = section.querySelector("form");
    var result = section.querySelector(".sc-result");
    var status = section.querySelector(".sc-status");
    var answers = {};
    var shown = null;
    var choice = 0;
    var doubted = "";
    var linked = "";

    function question(name) {
      return form.querySelector('[data-fact="' + name + '"]');
    }

    function say(template, values) {
      return template.replace(/\{(\w+)\}/g, function (whole, name) {
        return name in values ? values[name] : whole;
      });
    }

    function element(name, text, className) {
      var made = document.createElement(name);
      if (text) made.textContent = text;
      if (className) made.className = className;
      return made;
    }

    /* At most so many more questions: the longest way from here to an end. */
    function longest(branch, known) {
      if (branch < 0) return 0;
      if (known[branch] === undefined) {
        known[branch] = 1 + Math.max.apply(null, rules.nodes[branch].slice(1).map(function (next) {
          return longest(next, known);
        }));
      }
      return known[branch];
    }

    function branchOf(name) {
      return rules.nodes.findIndex(function (node) {
        return rules.facts[node[0]].fact === name;
      });
    }

    function title(name) {
      return payload.questions.find(function (one) {
        return one.fact === name;
      }).title;
    }

    function spoken(name) {
      var answer = answers[name];
      if (answer.unsure) return answer.photo ? words.photo : words.not_sure;
      if ("is" in answer) {
        var found = payload.questions.find(function (one) {
          return one.fact === name;
        }).choices.find(function (one) {
          return one[0] === answer.is;
        });
        return found ? found[1] : answer.is;
      }
      var unit = unitOf(facts[name], answer.unit);
      return writeAnswer(facts[name], answer) + " ± " + writeCount(unit.decimals, unit.plus_minus) + " " + unit.unit;
    }

    /* --- one question --- */

    function read(name) {
      var box = question(name);
      var picked = box.querySelector("input[type='radio']:checked");
      if (!picked) return { error: words.pick };
      if (picked.value !== "measured") {
        var answer = readAnswer(facts[name], picked.value);
        return answer ? { answer: answer } : { error: words.pick };
      }
      var unit = unitOf(facts[name], box.querySelector("[data-unit]").value);
      var found = readCount(unit, box.querySelector("[data-number]").value);
      var ends = unit.plausible.map(function (count) {
        return writeCount(unit.decimals, count) + " " + unit.unit;
      });
      if (found.error === "fine") return { error: say(words.too_fine, { unit: unit.unit, decimals: unit.decimals }) };
      if (found.error) return { error: words.no_number };
      var key = name + found.count + unit.unit;
      if ((found.count < unit.plausible[0] || found.count > unit.plausible[1]) && doubted !== key) {
        doubted = key;
        return { error: say(words.implausible, { low: ends[0], high: ends[1] }) };
      }
      return { answer: { unit: unit.unit, count: found.count } };
    }

    function complain(name, text) {
      var box = question(name);
      var place = box.querySelector(".sc-error");
      place.textContent = text;
      var field = box.querySelector("[data-number]");
      if (field) field.setAttribute("aria-invalid", text ? "true" : "false");
      if (text) (box.querySelector("input:checked[value='measured']") ? field : box.querySelector("input")).focus();
    }

    function fill(name) {
      var answer = answers[name];
      if (!answer) return;
      var box = question(name);
      var value = "count" in answer ? "measured" : writeAnswer(facts[name], answer);
      box.querySelectorAll("input[type='radio']").forEach(function (radio) {
        radio.checked = radio.value === value;
      });
      if (value !== "measured") return;
      var unit = unitOf(facts[name], answer.unit);
      box.querySelector("[data-unit]").value = answer.unit;
      box.querySelector("[data-number]").value = writeCount(unit.decimals, answer.count);
    }

    function showQuestion(name, moved) {
      shown = name;
      form.hidden = false;
      result.hidden = true;
      form.querySelectorAll("[data-fact]").forEach(function (box) {
        box.hidden = box.getAttribute("data-fact") !== name;
      });
      fill(name);
      complain(name, "");
      var before = walk(rules, answers).asked;
      var place = before.indexOf(name);
      var number = (place < 0 ? before.length : place) + 1;
      form.querySelector(".sc-back").disabled = number === 1;
      var more = longest(branchOf(name), {}) - 1;
      status.textContent = say(more ? words.progress : words.progress_last, { number: number, more: more });
      if (moved) question(name).querySelector("legend").focus();
    }

    /* --- the outcome --- */

    function numbers(condition) {
      var lines = [];
      (function look(test) {
        if (typeof test === "string") return;
        if (typeof test[0] !== "number") {
          test.slice(1).forEach(look);
          return;
        }
        var fact = rules.facts[test[0]];
        var answer = answers[fact.fact];
        if (!answer || answer.unsure || !("count" in answer)) return;
        var truth = fact.classes[classOf(fact, answer)][test[1]];
        var unit = unitOf(fact, answer.unit);
        var limit = unit.limits[test[1]];
        var low = limit[0] !== null && (limit[1] === null || answer.count < limit[0]);
        var bound = low ? limit[0] : limit[1];
        if (truth === "T" || bound === null) return;
        lines.push(
          say(words[(low ? "low_" : "high_") + truth.replace("?", "U")], {
            title: title(fact.fact),
            answer: spoken(fact.fact),
            limit: writeCount(unit.decimals, Math.max(0, bound)) + " " + unit.unit,
            gap: writeCount(unit.decimals, Math.abs(answer.count - bound)) + " " + unit.unit,
          })
        );
      })(condition.test);
      return lines;
    }

    function part(name) {
      var box = result.querySelector('[data-part="' + name + '"]');
      var list = box.querySelector("[data-list]");
      list.replaceChildren();
      return {
        add: function (node) {
          list.append(node);
          return node;
        },
        done: function () {
          box.hidden = !list.childNodes.length;
        },
      };
    }

    function conditionWords(id) {
      return payload.conditions.find(function (one) {
        return one.id === id;
      });
    }

    function showReasons(found) {
      var list = part("reasons");
      found.reasons.forEach(function (reason) {
        var told = conditionWords(reason[0]);
        var item = list.add(element("li"));
        item.append(element("strong", reason[1] === "F" ? words.not_met : words.not_known), " " + told.says);
        if (told.because) item.append(" " + told.because);
        var condition = rules.conditions.find(function (one) {
          return one.id === reason[0];
        });
        (told.detail ? [told.detail] : numbers(condition)).forEach(function (line) {
          item.append(element("p", line));
        });
      });
      list.done();
    }

    function showDecide(found) {
      var list = part("decide");
      var needed = found.decide ? found.decide.needed : [];
      if (found.decide && found.decide.first) {
        needed = [found.decide.first].concat(
          needed.filter(function (name) {
            return name !== found.decide.first;
          })
        );
      }
      needed.forEach(function (name) {
        var asked = payload.questions.find(function (one) {
          return one.fact === name;
        });
        var item = list.add(element("li"));
        item.append(element("strong", asked.title), " " + say(words.settle, { minutes: asked.minutes, tool: asked.tool, where: asked.where }));
      });
      if (found.decide) {
        payload.unasked.forEach(function (text) {
          list.add(element("li", say(words.unasked, { title: text })));
        });
      }
      list.done();
    }

    function showRemedies(found) {
      var list = part("remedies");
      var quiet = found.remedies.findIndex(function (one) {
        return !one.cuts;
      });
      found.remedies.forEach(function (one, place) {
        var label = element("label");
        var radio = element("input");
        radio.type = "radio";
        radio.name = "sc-remedies";
        radio.checked = place === choice;
        radio.addEventListener("change", function () {
          choice = place;
          showOrder(found);
        });
        var named = one.remedies.map(function (id) {
          return payload.remedies.find(function (remedy) {
            return remedy.id === id;
          }).name;
        });
        var notes = [say(words.minutes, { minutes: one.minutes })];
        if (one.cuts) notes.push(words.cuts);
        else if (place === quiet) notes.push(words.no_cutting);
        if (one.mains_work) notes.push(words.mains_work);
        label.append(radio, " ", element("strong", named.join(" + ")), " · " + notes.join(" · "));
        list.add(element("li")).append(label);
        one.provided.forEach(function (id) {
          list.add(element("li", say(words.provided, { says: conditionWords(id).says }), "sc-provided"));
        });
      });
      list.done();
    }

    function showPhotos(found) {
      var list = part("photos");
      found.asked.forEach(function (name) {
        if (!answers[name].unsure) return;
        payload.questions
          .find(function (one) {
            return one.fact === name;
          })
          .photos.forEach(function (shot) {
            list.add(element("li", shot));
          });
      });
      list.done();
    }

    function showAnswers(found) {
      var list = part("answers");
      found.asked.forEach(function (name) {
        var row = list.add(element("tr"));
        var head = element("th", title(name));
        head.scope = "row";
        var edit = element("button", words.edit);
        edit.type = "button";
        edit.setAttribute("aria-label", say(words.edit_one, { title: title(name) }));
        edit.addEventListener("click", function () {
          showQuestion(name, true);
        });
        var cell = element("td");
        cell.append(edit);
        row.append(head, element("td", spoken(name)), cell);
      });
      list.done();
    }

    function showOrder(found) {
      var list = part("order");
      var chosen = found.remedies.length ? found.remedies[choice] : null;
      toOrder(payload, found, chosen).forEach(function (line, place) {
        if (place || line === words.order.nothing) list.add(element("li", line.trim(), line.startsWith("  ") ? "sc-seal" : ""));
      });
      list.done();
      var text = writeOrder(payload, answers, choice);
      result.querySelector(".sc-text").value = text;
      var here = location.href.split("#")[0] + writeLink(payload, answers, found.asked);
      result.querySelector(".sc-link").href = here;
      var subject = words.order.title + ": " + payload.pair.variant + ", " + payload.pair.kit;
      var mail = result.querySelector(".sc-mail");
      mail.href =
        "mailto:" + payload.contact + "?subject=" + encodeURIComponent(subject) + "&body=" + encodeURIComponent(text + "\n" + here + "\n");
    }

    function showResult(found, moved) {
      shown = null;
      form.hidden = true;
      result.hidden = false;
      choice = Math.min(choice, Math.max(0, found.remedies.length - 1));
      var head = result.querySelector(".sc-outcome");
      head.textContent = words.outcomes[found.outcome];
      head.className = "sc-outcome gg-verdict gg-verdict--" + found.outcome;
      result.querySelector(".sc-sentence").textContent = words.sentences[found.outcome];
      var note = result.querySelector(".sc-edition");
      note.hidden = !linked || linked === payload.pair.edition;
      note.textContent = say(words.other_edition, { linked: linked, here: payload.pair.edition });
      showReasons(found);
      showDecide(found);
      showRemedies(found);
      showPhotos(found);
      showAnswers(found);
      showOrder(found);
      status.textContent = say(words.done, { outcome: words.outcomes[found.outcome] });
      if (moved) head.focus();
    }

    function show(moved) {
      var found = walk(rules, answers);
      if (found.ask) showQuestion(found.ask, moved);
      else showResult(found, moved);
    }

    function remember() {
      try {
        history.replaceState(history.state, "", writeLink(payload, answers, walk(rules, answers).asked));
      } catch (refused) {
        /* Then the page has no link of its own until the outcome shows one. */
      }
    }

    function fromLink() {
      var found = readLink(payload, location.hash);
      if (!found) return false;
      answers = found.answers;
      linked = found.edition;
      choice = 0;
      return true;
    }

    form.addEventListener("submit", function (event) {
      event.preventDefault();
      var found = read(shown);
      if (found.error) {
        complain(shown, found.error);
        return;
      }
      answers[shown] = found.answer;
      choice = 0;
      remember();
      show(true);
    });

    form.addEventListener("input", function (event) {
      if (!event.target.matches("[data-number], [data-unit]")) return;
      var measured = event.target.closest("[data-fact]").querySelector("input[value='measured']");
      measured.checked = true;
    });

    form.querySelector(".sc-back").addEventListener("click", function () {
      var asked = walk(rules, answers).asked;
      var place = asked.indexOf(shown);
      var before = asked[(place < 0 ? asked.length : place) - 1];
      if (before) showQuestion(before, true);
    });

    result.querySelector(".sc-again").addEventListener("click", function () {
      answers = {};
      linked = "";
      choice = 0;
      form.reset();
      remember();
      show(true);
    });

    result.querySelector(".sc-print").addEventListener("click", function () {
      window.print();
    });

    result.querySelector(".sc-copy").addEventListener("click", function () {
      var text = result.querySelector(".sc-text");
      function copied(done) {
        status.textContent = done ? words.copied : words.copy_failed;
      }
      function byHand() {
        text.focus();
        text.select();
        copied(document.execCommand("copy"));
      }
      if (!navigator.clipboard) byHand();
      else
        navigator.clipboard.writeText(text.value).then(function () {
          copied(true);
        }, byHand);
    });

    window.addEventListener("hashchange", function () {
      if (fromLink()) show(true);
    });

    section.classList.add("sc-on");
    section.querySelectorAll(".sc-paper").forEach(function (paper) {
      paper.hidden = true;
    });
    form.querySelector(".sc-buttons").hidden = false;
    fromLink();
    show(false);
  }

  document.querySelectorAll("[data-self-check]").forEach(start);
})();
