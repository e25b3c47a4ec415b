/* The screen around a step: the bar that says how far each phase is, and a screen that stays lit. */
(function () {
  "use strict";

  var element = window.guidegenShown.element;

  function screenOf(course, say, words) {
    var awake = null;

    function bar(p, now) {
      var list = document.querySelector(".gs-bar");
      list.replaceChildren();
      course.groups.forEach(function (group, place) {
        var own = course.placesOf(p, place);
        if (!own.length || (!group.phase && place !== now)) return;
        var done = own.every(function (other) { return p.done[other]; });
        var says = place === now ? words.phase_now : done ? words.phase_done : words.phase_ahead;
        var item = element("li", "", place === now ? "is-now" : done ? "is-done" : "");
        if (place === now) item.setAttribute("aria-current", "step");
        item.append(element("span", say(says, { phase: group.name }), "gs-unseen"));
        list.append(item);
      });
    }

    function stayLit() {
      if (!navigator.wakeLock || awake) return;
      navigator.wakeLock.request("screen").then(function (lock) {
        awake = lock;
        lock.addEventListener("release", function () { awake = null; });
      }, function () {});
    }

    function release() {
      if (awake) awake.release().catch(function () {});
      awake = null;
    }

    /* What is told of the guide today is seen before its step. */
    function head() {
      var notice = document.querySelector(".gg-notice");
      if (notice) notice.scrollIntoView();
    }

    return { head: head, bar: bar, stayLit: stayLit, release: release };
  }

  window.guidegenScreen = screenOf;
})();
