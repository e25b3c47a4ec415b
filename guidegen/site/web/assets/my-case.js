/* My case on an instruction: leaves out what other cases have, for reading and for print, and keeps the choice in the
   address. Marked are data-cases="trimmed exchanged" and data-by-case='{"trimmed": "2 h", …}'. Whoever shows the page
   otherwise listens for "guidegen:case". */
(function () {
  "use strict";

  var group = document.getElementById("my-case");
  var chosen = "";

  function ids() {
    return Array.from(group.querySelectorAll("input"), function (radio) {
      return radio.value;
    });
  }

  function leaveOut(id) {
    document.querySelectorAll("[data-cases]").forEach(function (element) {
      element.toggleAttribute("hidden", id !== "" && element.getAttribute("data-cases").split(" ").indexOf(id) < 0);
    });
    document.querySelectorAll("[data-by-case]").forEach(function (element) {
      if (!element.hasAttribute("data-in-all")) element.setAttribute("data-in-all", element.textContent);
      element.textContent = id ? JSON.parse(element.getAttribute("data-by-case"))[id] : element.getAttribute("data-in-all");
    });
    document.querySelectorAll('.md-nav--secondary a[href^="#"]').forEach(function (link) {
      var aim = document.getElementById(link.getAttribute("href").slice(1));
      link.closest("li").hidden = aim !== null && aim.closest("[data-cases][hidden]") !== null;
    });
  }

  /* From a folder some browsers let no script change the address: then the choice holds for this page only. */
  function remember(id) {
    var address = new URL(location.href);
    if (id) address.searchParams.set("case", id);
    else address.searchParams.delete("case");
    try {
      history.replaceState(history.state, "", address);
    } catch (refused) {
      /* As said. */
    }
  }

  function choose(id) {
    chosen = id;
    group.querySelectorAll("input").forEach(function (radio) {
      radio.checked = radio.value === id;
    });
    document.documentElement.classList.toggle("gg-one-case", id !== "");
    leaveOut(id);
    remember(id);
    document.dispatchEvent(new CustomEvent("guidegen:case", { detail: id }));
  }

  window.guidegenMyCase = {
    chosen: function () {
      return chosen;
    },
    choose: function (id) {
      if (group && ids().indexOf(id) >= 0) choose(id);
    },
  };
  if (!group) return;
  group.hidden = false;
  group.addEventListener("change", function (event) {
    choose(event.target.value);
  });
  window.guidegenMyCase.choose(new URL(location.href).searchParams.get("case") || "");
})();
