/* Shows the reader of an old edition how this guide stands today: unchanged, changed, with a notice, or withdrawn.
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
  var found = /^guides\/([a-z0-9-]+\/[a-z0-9-]+)\/[^/]*$/.exec(inside);
  if (!found) return;

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
  }

  fetch(new URL("../notices.json", top).href, { credentials: "omit", cache: "no-cache" })
    .then(function (answer) {
      return answer.ok ? answer.json() : null;
    })
    .then(function (notices) {
      var standing = notices && notices.editions && notices.editions[edition] && notices.editions[edition][found[1]];
      if (standing && typeof standing.says === "string") show(standing);
    })
    .catch(function () {
      /* Offline, or not there: silent. */
    });
})();
