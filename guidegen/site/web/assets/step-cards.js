/* What the page shows between steps: where the work can rest, what comes again, where it has to stop, and its end. */
(function () {
  "use strict";

  var element = window.guidegenShown.element;
  var timer = window.guidegenTimer;

  /* `on.going(act)` is a handler that changes the progress and goes on; `on.stop` puts the case away. */
  function cardsOf(data, course, reading, shown, say, on) {
    var words = data.words;
    var where = document.querySelector(".gs-where");
    var body = document.querySelector(".gs-card");

    function card(title, texts, buttons, list) {
      where.textContent = title;
      texts.filter(Boolean).forEach(function (text) {
        body.append(element("p", text));
      });
      if (list && list.length) {
        var items = element("ul");
        list.forEach(function (place) {
          items.append(element("li", course.steps[place].n + " " + shown.act(place)));
        });
        body.append(items);
      }
      var row = element("p", "", "gs-row");
      row.append.apply(row, buttons);
      body.append(row);
    }

    function retry() {
      return [on.button(words.try_again, on.going(course.goOn))];
    }

    var kinds = {
      stop: function (p) {
        var last = p.trail[p.trail.length - 1];
        var looks = course.looks(p);
        var title = say(words.stop_title, { phase: course.groups[course.steps[last].group].name });
        var buttons = [on.button(words.on, on.going(course.goOn), true), on.button(words.stop_now, on.stop)];
        card(title, [words.stop + " " + shown.stopWords(last), looks.length ? words.stop_later : ""], buttons, looks);
      },
      away: function (p) {
        var since = timer.clock(p.since || p.seen, Date.now());
        card(words.away_title, [say(words.away, { time: since })], [on.button(words.on, on.going(course.goOn), true)], p.again);
      },
      unknown: function (p) {
        var buttons = [on.button(words.phase_again, on.going(course.beginAgain), true)];
        if (course.first(p).a === null) buttons.push(on.button(words.on, on.going(course.goOn)));
        card(words.away_title, [say(words.unknown, { contact: words.contact })], buttons);
      },
      halted: function (p) {
        card(words.halted_title, [shown.failing(course.shown(p))], retry());
      },
      third: function () {
        card(words.halted_title, [words.third], retry());
      },
      ends: function (p) {
        card(words.halted_title, [course.groups[course.steps[p.at].group].ends], retry());
      },
      end: function (p) {
        where.textContent = words.end_title;
        if (data.report) window.guidegenEnd.show(body, data, course, reading, p, on.keep);
        else body.append(element("p", words.end_lead));
      },
    };

    return function (p) {
      body.replaceChildren();
      if (p) kinds[p.show](p);
    };
  }

  window.guidegenCards = cardsOf;
})();
