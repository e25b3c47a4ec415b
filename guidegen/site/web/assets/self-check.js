/* The self-check: one question at a time, then the outcome, what to order, and a text to send by hand.
   What it says comes from the page; what it decides comes from self-check-rules.js. Without scripts the page is a form
   to print. */
(function () {
  "use strict";

  var check = window.guidegenSelfCheck;

  function start(section) {
    var payload = JSON.parse(section.querySelector("script[type='application/json']").textContent);
    var rules = payload.rules;
    var words = payload.words;
    var facts = check.factsByName(payload);
    var form = section.querySelector("form");
    var result = section.querySelector(".sc-result");
    var status = section.querySelector(".sc-status");
    var copying = section.querySelector(".sc-copied");
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
      var unit = check.unitOf(facts[name], answer.unit);
      return check.writeAnswer(facts[name], answer) + " ± " + check.writeCount(unit.decimals, unit.plus_minus) + " " + unit.unit;
    }

    /* --- one question --- */

    function read(name) {
      var box = question(name);
      var picked = box.querySelector("input[type='radio']:checked");
      if (!picked) return { error: words.pick };
      if (picked.value !== "measured") {
        var answer = check.readAnswer(facts[name], picked.value);
        return answer ? { answer: answer } : { error: words.pick };
      }
      var unit = check.unitOf(facts[name], box.querySelector("[data-unit]").value);
      var found = check.readCount(unit, box.querySelector("[data-number]").value);
      var ends = unit.plausible.map(function (count) {
        return check.writeCount(unit.decimals, count) + " " + unit.unit;
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
      var value = "count" in answer ? "measured" : check.writeAnswer(facts[name], answer);
      box.querySelectorAll("input[type='radio']").forEach(function (radio) {
        radio.checked = radio.value === value;
      });
      if (value !== "measured") return;
      var unit = check.unitOf(facts[name], answer.unit);
      box.querySelector("[data-unit]").value = answer.unit;
      box.querySelector("[data-number]").value = check.writeCount(unit.decimals, answer.count);
    }

    function showQuestion(name, moved) {
      shown = name;
      form.hidden = false;
      result.hidden = true;
      form.querySelectorAll("[data-fact]").forEach(function (box) {
        box.hidden = box.getAttribute("data-fact") !== name;
      });
      fill(name);
      // Where a number is asked it is what most will give; on paper no box is ticked beforehand.
      var measured = question(name).querySelector("input[value='measured']");
      if (measured && !question(name).querySelector("input[type='radio']:checked")) measured.checked = true;
      complain(name, "");
      var before = check.walk(rules, answers).asked;
      var place = before.indexOf(name);
      var number = (place < 0 ? before.length : place) + 1;
      form.querySelector(".sc-back").disabled = number === 1;
      var more = longest(branchOf(name), {}) - 1;
      status.classList.remove("sc-spoken");
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
        var truth = fact.classes[check.classOf(fact, answer)][test[1]];
        var unit = check.unitOf(fact, answer.unit);
        var limit = unit.limits[test[1]];
        var low = limit[0] !== null && (limit[1] === null || answer.count < limit[0]);
        var bound = low ? limit[0] : limit[1];
        if (truth === "T" || bound === null) return;
        lines.push(
          say(words[(low ? "low_" : "high_") + truth.replace("?", "U")], {
            title: title(fact.fact),
            answer: spoken(fact.fact),
            limit: check.writeCount(unit.decimals, Math.max(0, bound)) + " " + unit.unit,
            gap: check.writeCount(unit.decimals, Math.abs(answer.count - bound)) + " " + unit.unit,
          })
        );
      })(condition.test);
      return lines;
    }

    /* What was picked from answers where it speaks against a condition, and what would hold. */
    function picked(condition, told) {
      var lines = [];
      (function look(test) {
        if (typeof test === "string") return;
        if (typeof test[0] !== "number") {
          test.slice(1).forEach(look);
          return;
        }
        var fact = rules.facts[test[0]];
        var answer = answers[fact.fact];
        if (!answer || !("is" in answer) || fact.classes[check.classOf(fact, answer)][test[1]] === "T") return;
        var line = say(words.picked, { title: title(fact.fact), answer: spoken(fact.fact), wanted: told.wanted });
        if (lines.indexOf(line) < 0) lines.push(line);
      })(condition.test);
      return lines;
    }

    /* Whose need a condition is: of the kit itself, or of what would mend something. */
    function whose(id) {
      var place = rules.conditions.findIndex(function (one) {
        return one.id === id;
      });
      if (rules.roots.indexOf(place) >= 0) return "";
      for (var condition of rules.conditions) {
        var remedy = condition.remedies.find(function (one) {
          return one.needs.indexOf(place) >= 0;
        });
        if (remedy) return say(words.whose, { name: remedyWords(remedy.id).name });
      }
      return "";
    }

    function remedyWords(id) {
      return payload.remedies.find(function (one) {
        return one.id === id;
      });
    }

    function sentence(text) {
      return text.charAt(0).toUpperCase() + text.slice(1);
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
        var word = say(reason[1] === "F" ? words.not_met : words.not_known, { whose: whose(reason[0]) });
        item.append(element("strong", word), " " + told.says);
        if (told.because) item.append(" " + told.because);
        var condition = rules.conditions.find(function (one) {
          return one.id === reason[0];
        });
        var lines = told.detail ? [told.detail] : numbers(condition);
        (lines.length ? lines : picked(condition, told)).forEach(function (line) {
          item.append(element("p", sentence(line)));
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
        item.append(element("strong", sentence(asked.title)), " " + say(words.settle, { minutes: asked.minutes, tool: asked.tool, where: asked.where }));
      });
      if (found.decide) {
        payload.unasked.forEach(function (text) {
          list.add(element("li", say(words.unasked, { title: sentence(text) })));
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
          return remedyWords(id).name;
        });
        var notes = [say(words.minutes, { minutes: one.minutes })];
        if (one.cuts) notes.push(words.cuts);
        else if (place === quiet) notes.push(words.no_cutting);
        if (one.mains_work) notes.push(words.mains_work);
        label.append(radio, " ", element("strong", named.join(" + ")), " · " + notes.join(" · "));
        var item = list.add(element("li"));
        item.append(label);
        one.remedies.forEach(function (id) {
          if (payload.guides && payload.guides[id]) item.append(guideLine(id));
        });
        one.provided.forEach(function (id) {
          item.append(element("p", say(words.provided, { says: conditionWords(id).says }), "sc-provided"));
        });
      });
      list.done();
    }

    function guideLine(id) {
      var line = element("p", "", "sc-provided");
      var link = element("a", say(words.guide, { kit: remedyWords(id).name, variant: payload.pair.variant_name }));
      link.href = payload.guides[id];
      line.append(link);
      return line;
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
        var head = element("th", sentence(title(name)));
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
      check.toOrder(payload, found, chosen).forEach(function (line, place) {
        if (place || line === words.order.nothing) list.add(element("li", line.trim(), line.startsWith("  ") ? "sc-seal" : ""));
      });
      list.done();
      var text = check.writeOrder(payload, answers, choice);
      result.querySelector(".sc-text").value = text;
      var here = location.href.split("#")[0] + check.writeLink(payload, answers, found.asked);
      result.querySelector(".sc-link").href = here;
      var subject = words.order.title + ": " + payload.pair.variant + ", " + payload.pair.kit;
      var mail = result.querySelector(".sc-mail");
      mail.href =
        "mailto:" + payload.contact + "?subject=" + encodeURIComponent(subject) + "&body=" + encodeURIComponent(text + "\n" + here + "\n");
    }

    function checksOf(checks) {
      var line = element("p", words.checks + " ", "sc-checks");
      checks.forEach(function (check, place) {
        var link = element("a", check[0]);
        link.href = check[1];
        if (place) line.append(" · ");
        line.append(link);
      });
      return line;
    }

    /* The outcome of telling variants apart: those that are left, each with its page and its self-checks. */
    function showVariants(found) {
      var left = found.outcome.split(" ").filter(Boolean);
      var list = result.querySelector("[data-variants]");
      list.replaceChildren();
      left.forEach(function (id) {
        var link = element("a", payload.variants[id].name);
        link.href = payload.variants[id].href;
        var item = element("li");
        item.append(link);
        if (payload.variants[id].checks.length) item.append(checksOf(payload.variants[id].checks));
        list.append(item);
      });
      result.querySelector(".sc-link").href = location.href.split("#")[0] + check.writeLink(payload, answers, found.asked);
      return left.length > 1 ? "several" : left.length ? "one" : "none";
    }

    function showPair(found) {
      choice = Math.min(choice, Math.max(0, found.remedies.length - 1));
      showReasons(found);
      showDecide(found);
      showRemedies(found);
      showOrder(found);
      return found.outcome;
    }

    function showResult(found, moved) {
      shown = null;
      form.hidden = true;
      result.hidden = false;
      var outcome = payload.variants ? showVariants(found) : showPair(found);
      var head = result.querySelector(".sc-outcome");
      head.textContent = words.outcomes[outcome];
      result.setAttribute("data-outcome", outcome);
      head.className = "sc-outcome gg-verdict gg-verdict--" + outcome;
      result.querySelector(".sc-sentence").textContent = say(words.sentences[outcome], { contact: payload.contact });
      var note = result.querySelector(".sc-edition");
      note.hidden = !linked || linked === payload.pair.edition;
      note.textContent = say(words.other_edition, { linked: linked, here: payload.pair.edition });
      showPhotos(found);
      showAnswers(found);
      status.textContent = say(words.done, { outcome: words.outcomes[outcome] });
      status.classList.add("sc-spoken");
      result.querySelector(".sc-again").hidden = !found.asked.length;
      if (copying) copying.textContent = "";
      if (moved) head.focus();
    }

    function show(moved) {
      var found = check.walk(rules, answers);
      if (found.ask) showQuestion(found.ask, moved);
      else showResult(found, moved);
    }

    function remember() {
      try {
        history.replaceState(history.state, "", check.writeLink(payload, answers, check.walk(rules, answers).asked));
      } catch (refused) {
        /* Then the page has no link of its own until the outcome shows one. */
      }
    }

    function fromLink() {
      var found = check.readLink(payload, location.hash);
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
      var asked = check.walk(rules, answers).asked;
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

    function copied(done) {
      copying.textContent = done ? words.copied : words.copy_failed;
    }

    function copy() {
      var text = result.querySelector(".sc-text");
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
    }

    if (!payload.variants) {
      result.querySelector(".sc-copy").addEventListener("click", copy);
      result.querySelector(".sc-print").addEventListener("click", function () {
        window.print();
      });
    }

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
