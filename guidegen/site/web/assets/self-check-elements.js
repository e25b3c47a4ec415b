/* Elements and sentences as the outcome of the self-check makes them. */
(function () {
  "use strict";

  function element(name, text, className) {
    var made = document.createElement(name);
    if (text) made.textContent = text;
    if (className) made.className = className;
    return made;
  }

  function sentence(text) {
    return text.charAt(0).toUpperCase() + text.slice(1);
  }

  /* A sentence; where it comes in parts, each quantity in both systems of units. */
  function measured(line) {
    if (typeof line === "string") return element("p", sentence(line));
    var made = element("p");
    line.forEach(function (one, place) {
      if (typeof one === "string") {
        made.append(place ? one : sentence(one));
        return;
      }
      var both = element("span", "", "q");
      both.append(element("span", one[0], "q-metric"), element("span", one[1], "q-imperial"));
      made.append(both);
    });
    return made;
  }

  function link(text, address) {
    var made = element("a", text);
    made.href = address;
    return made;
  }

  window.guidegenSelfCheckElements = { element: element, sentence: sentence, link: link, measured: measured };
})();
