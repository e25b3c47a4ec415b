/* The outcome of the self-check: what stands in the way, what helps, what to order, and a text to send by hand.
   What it decides comes from self-check-rules.js, what it says of answers from self-check-words.js. */
(function () {
  "use strict";

  var check = window.guidegenSelfCheck;
  var say = window.guidegenSelfCheckWords.say;
  var named = window.guidegenSelfCheckWords.named;

  var element = window.guidegenSelfCheckElements.element;
  var sentence = window.guidegenSelfCheckElements.sentence;
  var link = window.guidegenSelfCheckElements.link;
  var measured = window.guidegenSelfCheckElements.measured;

  /* Shows outcomes in a section. `state` has the answers, the chosen remedies and the edition of the link; `edit` asks
     a question again. */
  function outcomeOf(section, payload, state, edit) {
    var words = payload.words;
    var wording = window.guidegenSelfCheckWords.of(payload, state);
    var result = section.querySelector(".sc-result");
    var status = section.querySelector(".sc-status");
    var own = window.guidegenSelfCheckOwn(section, showText);
    var orderText = "";
    var copying = section.querySelector(".sc-copied");

    function remedyWords(id) {
      return named(payload.remedies, "id", id);
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
      return named(payload.conditions, "id", id);
    }

    function showReasons(found) {
      var lists = { bars: part("bars"), mendable: part("mendable"), ruled_out: part("ruled_out"), open: part("open") };
      var unmet = new Set(found.reasons.filter(function (reason) {
        return reason[1] === "F";
      }).map(function (reason) {
        return reason[0];
      }));
      found.reasons.forEach(function (reason) {
        var condition = conditionWords(reason[0]);
        var item = lists[wording.kindOf(reason[0], unmet)].add(element("li"));
        var word = say(reason[1] === "F" ? words.not_met : words.not_known, { whose: wording.whose(reason[0]) });
        item.append(element("strong", word), " " + condition.says);
        if (condition.because) item.append(" " + condition.because);
        wording.against(reason[0]).forEach(function (line) {
          item.append(measured(line));
        });
      });
      Object.keys(lists).forEach(function (name) {
        lists[name].done();
      });
    }

    function showDecide(found) {
      var list = part("decide");
      var first = found.decide && found.decide.first ? [found.decide.first] : [];
      var needed = found.decide ? found.decide.needed : [];
      new Set(first.concat(needed)).forEach(function (name) {
        var question = wording.asked(name);
        var item = list.add(element("li"));
        item.append(element("strong", sentence(question.title)), " " + say(words.settle, question));
      });
      if (found.decide) {
        found.asked.filter(wording.beyond).forEach(function (name) {
          var question = wording.asked(name);
          var values = { title: sentence(question.title), answer: wording.answerText(name), photos: question.photos.join("; ") };
          list.add(element("li", say(words.only_we, values)));
        });
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
        radio.checked = place === state.choice;
        radio.addEventListener("change", function () {
          state.choice = place;
          showOrder(found);
        });
        var names = one.remedies.map(function (id) {
          return remedyWords(id).name;
        });
        var notes = [say(words.minutes, { minutes: Math.round(one.minutes) })];
        if (one.cuts) notes.push(words.cuts);
        else if (place === quiet) notes.push(words.no_cutting);
        if (one.mains_work) notes.push(words.mains_work);
        label.append(radio, " ", element("strong", names.join(" + ")), " · " + notes.join(" · "));
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
      var text = say(words.guide, { kit: remedyWords(id).name, variant: payload.pair.variant_name });
      line.append(link(text, payload.guides[id]));
      return line;
    }

    function showPhotos(found) {
      var list = part("photos");
      found.asked.forEach(function (name) {
        if (!state.answers[name].unsure && !wording.beyond(name)) return;
        wording.asked(name).photos.forEach(function (shot) {
          list.add(element("li", shot));
        });
      });
      list.done();
    }

    function showAnswers(found) {
      var list = part("answers");
      found.asked.forEach(function (name) {
        var row = list.add(element("tr"));
        var head = element("th", sentence(wording.asked(name).title));
        head.scope = "row";
        var button = element("button", words.edit);
        button.type = "button";
        button.setAttribute("aria-label", say(words.edit_one, { title: wording.asked(name).title }));
        button.addEventListener("click", function () {
          edit(name);
        });
        var cell = element("td");
        cell.append(button);
        row.append(head, element("td", wording.answerText(name)), cell);
      });
      list.done();
    }

    function linkTo(found) {
      var here = location.href.split("#")[0] + check.writeLink(payload, state.answers, found.asked);
      result.querySelector(".sc-link").href = here;
      return here;
    }

    function showOrder(found) {
      var list = part("order");
      var chosen = found.remedies.length ? found.remedies[state.choice] : null;
      check.toOrder(payload, found, chosen).forEach(function (line, place) {
        if (place || line === words.order.nothing) list.add(element("li", line.trim(), line.startsWith("  ") ? "sc-seal" : ""));
      });
      list.done();
      result.setAttribute("data-ordered", check.ordered(payload, found, chosen).join(" "));
      showInstruction(found, chosen);
      orderText = check.writeOrder(payload, state.answers, state.choice);
      linkTo(found);
      showText();
    }

    function showInstruction(found, chosen) {
      var facts = check.factsByName(payload);
      var said = found.asked.map(function (name) {
        return check.writeAnswer(facts[name], state.answers[name]);
      });
      var href = window.guidegenSelfCheckCase(payload, said, chosen);
      result.querySelector(".sc-instruction").hidden = !href || !(found.outcome in { fits: 0, "fits-with-conditions": 0 });
      if (href) result.querySelector(".sc-instruction a").href = href;
    }

    /* The text, under what its owner put in for the order; the link has the answers only. */
    function showText() {
      if (!orderText) return;
      var text = own() + orderText;
      var here = result.querySelector(".sc-link").href;
      result.querySelector(".sc-text").value = text;
      var subject = words.order.title + ": " + payload.pair.variant_name + ", " + payload.pair.kit_name;
      var mail = result.querySelector(".sc-mail");
      mail.href =
        "mailto:" + payload.contact + "?subject=" + encodeURIComponent(subject) + "&body=" + encodeURIComponent(text + "\n" + here + "\n");
    }

    function checksOf(checks) {
      var line = element("p", words.checks + " ", "sc-checks");
      checks.forEach(function (check, place) {
        if (place) line.append(" · ");
        line.append(link(check[0], check[1]));
      });
      return line;
    }

    /* The outcome of distinguishing variants: those that are left, each with its page and its self-checks. */
    function showVariants(found) {
      var list = result.querySelector("[data-variants]");
      list.replaceChildren();
      found.left.forEach(function (place) {
        var variant = payload.variants[place];
        var item = element("li");
        item.append(link(variant.name, variant.href));
        if (variant.checks.length) item.append(checksOf(variant.checks));
        list.append(item);
      });
      linkTo(found);
      if (found.against.length) return "against";
      return found.left.length > 1 ? "several" : found.left.length ? "one" : "none";
    }

    /* What the sentence of an outcome speaks of. */
    function spokenOf(found) {
      var said = (found.against || []).map(wording.said);
      var first = (found.left || []).slice(0, 1).map(function (place) {
        return payload.variants[place].name;
      });
      return { contact: payload.contact, variant: first.join(), last: said.pop(), first: said.join("; ") };
    }

    function showPair(found) {
      state.choice = Math.min(state.choice, Math.max(0, found.remedies.length - 1));
      showReasons(found);
      showDecide(found);
      showRemedies(found);
      showOrder(found);
      return found.outcome;
    }

    function showResult(found, moved) {
      result.hidden = false;
      var outcome = payload.variants ? showVariants(found) : showPair(found);
      var head = result.querySelector(".sc-outcome");
      head.textContent = words.outcomes[outcome];
      result.setAttribute("data-outcome", outcome);
      head.className = "sc-outcome gg-verdict gg-verdict--" + outcome;
      result.querySelector(".sc-sentence").textContent = sentence(say(words.sentences[outcome], spokenOf(found)));
      var note = result.querySelector(".sc-edition");
      note.hidden = !state.linked || state.linked === payload.pair.edition;
      note.textContent = say(words.other_edition, { linked: state.linked, here: payload.pair.edition });
      showPhotos(found);
      showAnswers(found);
      status.textContent = say(words.done, { outcome: words.outcomes[outcome] });
      status.classList.add("sc-screen-reader-only");
      result.querySelector(".sc-again").hidden = !found.asked.length;
      if (copying) copying.textContent = "";
      if (moved) head.focus();
    }

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

    return showResult;
  }

  window.guidegenSelfCheckOutcome = { of: outcomeOf };
})();
