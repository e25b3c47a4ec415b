/* Lets the labels that open the menu and the search be reached and pressed from the keyboard. */
(function () {
  "use strict";

  document.addEventListener("keydown", function (event) {
    if (event.key !== "Enter" && event.key !== " ") return;
    var label = event.target;
    if (!label.matches || !label.matches('label[role="button"][for]')) return;
    event.preventDefault();
    label.click();
    if (label.htmlFor === "__search") {
      var field = document.querySelector(".md-search__input");
      if (field) field.focus();
    }
  });
})();
