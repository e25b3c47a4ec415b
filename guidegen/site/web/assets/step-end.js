/* The end of the work: what the build report says beside the readings, and its text to copy. Nothing is sent. */
(function () {
  "use strict";

  var element = window.guidegenShown.element;
  var timer = window.guidegenTimer;

  /* What a report says, from the progress of a case. */
  function reportOf(data, course, reading, p) {
    var steps = course.steps;
    var guide = data.guide;
    var chosen = data.cases.find(function (one) { return one.id === p.case; }) || { says: [] };
    var listed = steps.filter(function (step) {
      return step.h && course.taken(p, step.place) && (course.groups[step.group].phase || p.holds[step.place]);
    });

    function read(hold, text, passed) {
      var said = String(text || "");
      return said && reading.reads(hold.l, said) && reading.accepted(hold.s, hold.l, said) === passed ? said : "";
    }

    return {
      variant: guide.variant, variant_name: guide.variant_name, kit: guide.kit, kit_name: guide.kit_name,
      revision: guide.revision, edition: guide.edition, finished: p.end.finished, doer: p.end.doer, signer: p.end.signer,
      publish: p.end.publish === true,
      case: chosen.says,
      readings: listed.map(function (step) {
        var held = p.holds[step.place] || { result: "not-done", reading: "" };
        var said = held.result === "not-done" ? "" : read(step.h, held.reading, held.result === "passed");
        return { number: step.n, step: step.k, result: held.result, reading: said };
      }),
      minutes: course.groups.flatMap(function (group, place) {
        var took = Math.min(9999, Math.round(Number(p.end["minutes." + place]) || 0));
        return group.phase && took > 0 && course.placesOf(p, place).length ? [[group.id, took]] : [];
      }),
      failures: p.failed.map(function (one) {
        var step = steps[one.place];
        return { number: step.n, step: step.k, reading: read(step.h, one.reading, false), helped: line(one.helped) };
      }),
      facts: data.facts.flatMap(function (one) {
        var said = line(p.end["fact." + one.fact] || "");
        if (one.words) return one.words.some(function (word) { return word[0] === said; }) ? [[one.fact, said]] : [];
        var found = said.indexOf("/") < 0 && reading.measured(said);
        return found && found.dimension === reading.measured("1 " + one.unit).dimension ? [[one.fact, said]] : [];
      }),
      findings: String(p.end.noticed || "").split("\n").map(line).filter(Boolean),
    };
  }

  function line(text) {
    return String(text).replace(/\s+/g, " ").trim().slice(0, 500);
  }

  /* The form, into a card; `keep` is called when something in it has changed. */
  function endOf(card, data, course, reading, p, keep) {
    var words = data.words;
    var text = element("textarea", "", "gs-text");
    var copied = element("p", "", "gs-said");

    function field(label, input, name, given, into) {
      if (!(name in p.end)) p.end[name] = given;
      if (input.type === "checkbox") input.checked = p.end[name] === true;
      else input.value = p.end[name];
      input.addEventListener("input", function () {
        p.end[name] = input.type === "checkbox" ? input.checked : input.value;
        update();
      });
      return labelled(label, input, into);
    }

    function labelled(label, input, into) {
      var made = element("label", "", "gs-field");
      made.append(element("span", label), input);
      (into || card).append(made);
      return input;
    }

    function input(type, most) {
      var made = element("input");
      made.type = type;
      made.autocomplete = "off";
      if (most) made.maxLength = most;
      return made;
    }

    function choice(options) {
      var made = element("select");
      options.forEach(function (one) {
        var option = element("option", one[1]);
        option.value = one[0];
        made.append(option);
      });
      return made;
    }

    function update() {
      text.value = window.guidegenReport(reportOf(data, course, reading, p));
      keep();
    }

    function title(says) {
      card.append(element("h3", says));
    }

    card.append(element("p", words.end_lead));
    if (data.guide.draft) card.append(element("p", words.draft));
    field(words.finished, input("date"), "finished", timer.day(new Date()));
    field(words.doer, choice([["owner", words.owner], ["workshop", words.workshop], ["maker", words.maker]]), "doer", "owner");
    var signed = Object.keys(p.names).length ? "electrically-skilled" : "nobody";
    field(words.signer, choice([["electrically-skilled", words.skilled], ["nobody", words.nobody]]), "signer", signed);
    field(words.publish, input("checkbox"), "publish", false);
    title(words.minutes);
    course.groups.forEach(function (group, place) {
      if (!group.phase || !course.placesOf(p, place).length) return;
      var box = input("number");
      box.min = "0";
      box.max = "9999";
      field(group.name, box, "minutes." + place, String(Math.ceil((p.spent[place] || 0) / 60000)));
    });
    if (p.failed.length) title(words.failures);
    p.failed.forEach(function (one) {
      var box = labelled(words.helped.replace("{step}", course.steps[one.place].n), input("text", 500));
      box.value = one.helped;
      box.addEventListener("input", function () {
        one.helped = box.value;
        update();
      });
    });
    var measured = element("details", "", "gs-how");
    measured.append(element("summary", words.facts));
    if (data.facts.length) card.append(measured);
    data.facts.forEach(function (one) {
      var box = one.words ? choice([["", ""]].concat(one.words)) : input("text", 40);
      field(one.title + (one.unit ? " (" + one.unit + ")" : ""), box, "fact." + one.fact, "", measured);
    });
    field(words.noticed, element("textarea"), "noticed", "");
    title(words.report);
    text.readOnly = true;
    text.rows = 16;
    text.setAttribute("aria-label", words.report);
    var copy = element("button", words.copy, "gs-button gs-main");
    copy.type = "button";
    copied.setAttribute("role", "status");
    card.append(text, copy, copied);
    copy.addEventListener("click", function () {
      function byHand() {
        text.focus();
        text.select();
        copied.textContent = document.execCommand("copy") ? words.copied : words.copy_failed;
      }
      if (!navigator.clipboard) byHand();
      else
        navigator.clipboard.writeText(text.value).then(function () {
          copied.textContent = words.copied;
        }, byHand);
    });
    update();
  }

  window.guidegenEnd = { show: endOf, reportOf: reportOf };
})();
