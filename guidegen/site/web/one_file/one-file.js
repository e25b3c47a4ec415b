/* Says at the top of an instruction that is one file whether this browser keeps what is ticked in it. */
(function () {
  "use strict";

  var said = document.querySelector(".one-keeps");
  var name = /^https?:$/.test(location.protocol) ? "site" : "file";
  try {
    localStorage.setItem("guidegen.asked", "1");
    localStorage.removeItem("guidegen.asked");
  } catch (refused) {
    name = "none";
  }
  said.textContent = said.getAttribute("data-" + name);
})();
