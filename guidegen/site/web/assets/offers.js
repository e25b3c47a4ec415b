/* Price, stock and lead time of this kit, beside the self-check's result. They change daily, so they lie in offers.json
   above the edition's folder and in no page; asked for only on a web server, and silent when late, absent or offline. */
(function () {
  "use strict";

  var own = document.currentScript;
  var result = document.querySelector("[data-self-check] .sc-result");
  if (!own || !result || !/^https?:$/.test(location.protocol)) return;
  var edition = own.getAttribute("data-edition");
  var top = new URL("../..", own.src);
  var parts = top.pathname.split("/").filter(Boolean);
  var folder = decodeURIComponent(parts[parts.length - 1] || "");
  if (folder !== edition && folder !== edition + "-rerendered") return;
  var found = /^guides\/[a-z0-9-]+\/([a-z0-9-]+)\//.exec(decodeURIComponent(location.pathname.slice(top.pathname.length)));
  if (!found) return;

  function today() {
    var now = new Date();
    var pad = function (number) {
      return String(number).padStart(2, "0");
    };
    return now.getFullYear() + "-" + pad(now.getMonth() + 1) + "-" + pad(now.getDate());
  }

  /* The page brings the words, in its language; each has one place for a value. */
  function say(name, value) {
    return own.getAttribute("data-" + name).replace(/\{\w+\}/, function () {
      return String(value);
    });
  }

  function words(offer, until) {
    var parts = [say("price", offer.price)];
    if (typeof offer.stock === "number") parts.push(say(offer.stock ? "stock" : "none", offer.stock));
    if (typeof offer.lead_time_days === "number") parts.push(say("lead", offer.lead_time_days));
    return parts.join(", ") + ". " + (offer.note ? offer.note + " " : "") + say("until", until);
  }

  fetch(new URL("../offers.json", top).href, { credentials: "omit", cache: "no-cache" })
    .then(function (answer) {
      return answer.ok ? answer.json() : null;
    })
    .then(function (offers) {
      var offer = offers && offers.kits && offers.kits[found[1]];
      if (!offer || !(String(offers.valid_until) >= today())) return;
      var place = document.createElement("p");
      place.className = "sc-offer";
      place.textContent = words(offer, offers.valid_until);
      (result.querySelector('[data-part="order"]') || result.lastElementChild).insertAdjacentElement("afterend", place);
    })
    .catch(function () {
      /* Offline, or not there: silent. */
    });
})();
