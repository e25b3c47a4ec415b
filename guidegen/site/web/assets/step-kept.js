/* The cases that this device keeps, listed on the page to be gone on with or deleted; saved to a file and opened from one. */
(function () {
  "use strict";

  var element = window.guidegenShown.element;
  var timer = window.guidegenTimer;

  /* `on.open` takes progress that was found. */
  function keptOf(data, course, store, say, on) {
    var words = data.words;
    var intro = document.querySelector(".gs-intro");

    function said(text) {
      intro.querySelector(".gs-said").textContent = text;
    }

    function list() {
      var rows = intro.querySelector(".gs-kept");
      rows.replaceChildren();
      store.kept().forEach(function (one) {
        var step = course.steps[course.shown(one)].n;
        var values = { number: one.number, step: step, time: timer.clock(one.seen, Date.now()) };
        var row = element("p", "", "gs-row");
        row.append(
          on.button(say(words.go_on_with, values), function () { on.open(store.load(one.number) || one); }, true),
          on.button(say(words.forget, values), function () {
            if (!window.confirm(say(words.forget_sure, values))) return;
            store.forget(one.number);
            list();
          })
        );
        var item = element("li", say(words.kept, values));
        item.append(row);
        rows.append(item);
      });
    }

    function saveFile(p) {
      var link = element("a");
      link.href = URL.createObjectURL(new Blob([JSON.stringify(p)], { type: "application/json" }));
      link.download = data.guide.ticks.replace(/[/@]/g, "-") + "-" + p.number + ".json";
      link.click();
      setTimeout(function () { URL.revokeObjectURL(link.href); }, 1000);
    }

    function openFile(file) {
      file.text().then(function (text) {
        var found = store.read(text);
        var edition = store.elsewhere(text);
        if (found) on.open(found);
        else if (edition && edition !== data.guide.edition) said(say(words.other_edition, { edition: edition }));
        else said(words.no_file);
      });
    }

    return { list: list, said: said, saveFile: saveFile, openFile: openFile };
  }

  window.guidegenKept = keptOf;
})();
