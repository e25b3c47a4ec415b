/* Fetches the scripts of one step at a time once somebody wants them, so that who only reads need not wait for them. Where
   they are in the page already it does nothing. */
(function () {
  "use strict";

  var intro = document.querySelector(".gs-intro");
  if (!intro || window.guidegenSteps) return;
  var asked = null;

  /* One after the other, as each uses those before it. */
  function load() {
    if (asked) return asked;
    asked = intro.getAttribute("data-scripts").split(" ").reduce(function (before, address) {
      return before.then(function () {
        return new Promise(function (done, failed) {
          var script = document.createElement("script");
          script.src = address;
          script.onload = done;
          script.onerror = failed;
          document.head.append(script);
        });
      });
    }, Promise.resolve());
    asked.catch(lost);
    return asked;
  }

  /* Said, and tried again by the next touch. */
  function lost() {
    asked = null;
    intro.querySelector(".gs-said").textContent = JSON.parse(intro.querySelector(".gs-data").textContent).words.lost;
  }

  function isKept() {
    try {
      return Object.keys(localStorage).some(function (key) {
        return key.startsWith("guidegen.steps.");
      });
    } catch (refused) {
      return false;
    }
  }

  function first(event) {
    if (window.guidegenSteps) return;
    var begins = event.target.closest(".gs-begin");
    var file = event.type === "change" ? event.target.files[0] : null;
    load().then(function () {
      if (begins) window.guidegenSteps.begin();
      if (file) window.guidegenSteps.openFile(file);
    }, function () {});
  }

  intro.hidden = false;
  intro.querySelector(".gs-begin").addEventListener("click", first);
  intro.querySelector(".gs-file").addEventListener("change", first);
  if (location.hash.indexOf("#step=") === 0 || isKept()) load().catch(function () {});
})();
