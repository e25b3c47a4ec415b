/* Menu and search from the keyboard: their buttons press the theme's hidden toggles, Escape closes the menu. */
(function () {
  "use strict";

  function toggle(button) {
    return document.getElementById(button.getAttribute("data-opens"));
  }

  document.querySelectorAll("button[data-opens]").forEach(function (button) {
    if (!toggle(button)) return;
    button.addEventListener("click", function () {
      toggle(button).click();
      var field = button.getAttribute("data-opens") === "__search" && document.querySelector(".md-search__input");
      if (field) field.focus();
    });
  });

  document.addEventListener("keydown", function (event) {
    var drawer = document.getElementById("__drawer");
    if (event.key !== "Escape" || !drawer || !drawer.checked) return;
    drawer.click();
    document.querySelector('[data-opens="__drawer"]').focus();
  });
})();
