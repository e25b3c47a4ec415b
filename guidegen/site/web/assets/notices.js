/* Shows the reader of an old edition how this guide stands today: unchanged, changed, with a notice, or withdrawn.
   And marks what leads to a guide with a notice, on every page of the edition.
   The edition's own bytes never change; what is known today lies in notices.json above its folder. Asked for only on
   a web server, anew each time, because a warning that waits in a cache warns nobody; offline, and where nothing
   answers, the page stays as it is. */
(function () {
  "use strict";

  var own = document.currentScript;
  if (!own || !/^https?:$/.test(location.protocol)) return;
  var edition = own.getAttribute("data-edition");
  var top = new URL("../..", own.src);
  var parts = top.pathname.split("/").filter(Boolean);
  var folder = decodeURIComponent(parts[parts.length - 1] || "");
  if (folder !== edition && folder !== edition + "-rerendered") return;
  var inside = decodeURIComponent(location.pathname.slice(top.pathname.length));
  var OF_GUIDE = /^guides\/([a-z0-9-]+\/[a-z0-9-]+)\/[^/]*$/;
  var found = OF_GUIDE.exec(inside);

  function show(standing) {
    var guide = document.getElementById("guide");
    var heading = guide && guide.querySelector("h1");
    if (!heading) return;
    var grave = standing.state === "notice" || standing.state === "withdrawn";
    var box = document.createElement("div");
    box.className = grave ? "gg-hold gg-notice" : "gg-notice";
    box.setAttribute("role", "note");
    box.setAttribute("data-state", standing.state);
    if (grave) {
      var word = document.createElement("p");
      word.className = "gg-hold__word";
      word.textContent = own.getAttribute("data-" + standing.state);
      box.appendChild(word);
    }
    var text = document.createElement("p");
    text.textContent = standing.says + " ";
    if (standing.href) {
      var link = document.createElement("a");
      link.href = new URL("../" + standing.href, top).href;
      link.textContent = own.getAttribute("data-newest");
      text.appendChild(link);
    }
    box.appendChild(text);
    heading.insertAdjacentElement("afterend", box);
    document.dispatchEvent(new CustomEvent("guidegen:standing"));
  }

  /* Home, comparison, a variant's page, the neighbours of a guide: whatever leads to a guide says how it stands. */
  function mark(standings) {
    Array.prototype.forEach.call(document.querySelectorAll("main a[href]"), function (link) {
      if (link.origin !== location.origin || link.pathname.indexOf(top.pathname) !== 0) return;
      var leads = OF_GUIDE.exec(decodeURIComponent(link.pathname.slice(top.pathname.length)));
      var standing = leads && (!found || leads[1] !== found[1]) && standings[leads[1]];
      if (!standing || (standing.state !== "withdrawn" && standing.state !== "notice")) return;
      var within = link.closest("tr, li, dd, section, p") || link.parentNode;
      if (within.querySelector('[data-marks="' + leads[1] + '"]')) return;
      var word = document.createElement("strong");
      word.className = "gg-stands";
      word.setAttribute("data-state", standing.state);
      word.setAttribute("data-marks", leads[1]);
      word.textContent = " " + own.getAttribute("data-" + standing.state);
      link.insertAdjacentElement("afterend", word);
    });
  }

  /* Taken along, the page says of which day its notices are; the worker puts that day on what it kept. */
  function offline(text) {
    var heading = document.querySelector("#guide h1");
    if (!heading) return;
    var box = document.createElement("p");
    box.className = "gg-notice";
    box.setAttribute("role", "note");
    box.setAttribute("data-state", "offline");
    box.textContent = text;
    heading.insertAdjacentElement("afterend", box);
  }

  fetch(new URL("../notices.json", top).href, { credentials: "omit", cache: "no-store" })
    .then(function (answer) {
      var day = answer.headers.get("guidegen-taken");
      if (day) offline(own.getAttribute("data-as-of").replace("{date}", day.slice(0, 10)));
      if (answer.status >= 500) throw answer;
      return answer.ok ? answer.json() : null;
    })
    .then(function (notices) {
      var standings = notices && notices.editions && notices.editions[edition];
      if (!standings) return;
      var standing = found && standings[found[1]];
      if (standing && typeof standing.says === "string") show(standing);
      mark(standings);
    })
    .catch(function (failed) {
      /* Not there, or of no use: silent. But who reads a guide that was taken along has to know, and who reads one of a
         server that has notices and cannot tell them. */
      var along = navigator.serviceWorker && navigator.serviceWorker.controller;
      if (failed instanceof Response) offline(own.getAttribute("data-no-answer"));
      else if (along) offline(own.getAttribute("data-not-asked"));
    });
})();
