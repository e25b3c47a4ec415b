/* Added by `guidegen serve` only: waits for news of this page, reloads when it changed, shows what is to be fixed. */
(function () {
  "use strict";

  var of = new URL(document.currentScript.src).searchParams.get("of");
  var shown = "";
  var page = encodeURIComponent(decodeURIComponent(location.pathname));

  function element(name, text, style) {
    var made = document.createElement(name);
    if (text) made.textContent = text;
    if (style) made.style.cssText = style;
    return made;
  }

  function show(problems) {
    var old = document.getElementById("guidegen-problems");
    if (old) old.remove();
    if (!problems.length) return;
    var box = element(
      "section",
      "",
      "position:fixed;inset:auto 0 0 0;max-height:60vh;overflow:auto;z-index:99;padding:12px 20px;" +
        "background:#fbfaf7;color:#1f2933;border-top:3px solid #a81e17;font:15px/1.5 system-ui,sans-serif"
    );
    box.id = "guidegen-problems";
    box.setAttribute("role", "alert");
    box.appendChild(element("strong", problems.length === 1 ? "1 problem to fix" : problems.length + " problems to fix"));
    var list = element("ul", "", "margin:4px 0;padding-left:20px");
    problems.forEach(function (problem) {
      var item = element("li");
      item.appendChild(element("code", problem.path + ":" + problem.line + ":" + problem.column));
      item.appendChild(document.createTextNode(" " + problem.code + " " + problem.message));
      if (problem.fix) item.appendChild(element("div", "fix: " + problem.fix));
      list.appendChild(item);
    });
    box.appendChild(list);
    document.body.appendChild(box);
  }

  function listen() {
    fetch("/guidegen-live/state?page=" + page + "&of=" + of + "&shown=" + shown, { cache: "no-store" })
      .then(function (answer) {
        return answer.json();
      })
      .then(function (state) {
        if (state.of !== of) {
          location.reload();
          return;
        }
        shown = state.shown;
        show(state.problems);
        listen();
      })
      .catch(function () {
        setTimeout(listen, 1000);
      });
  }

  listen();
})();
