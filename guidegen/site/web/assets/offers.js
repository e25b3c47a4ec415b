/* Prices, stock and lead time. They change between two editions, so they lie in offers.json above the edition's folder
   and in no page; asked for only on a web server, and silent when late, absent or offline: then the page's own way to
   the price list stays. Sums are of whole numbers, in the currency's smallest unit. */
(function () {
  "use strict";

  var own = document.currentScript;
  var result = document.querySelector("[data-self-check] .sc-result");
  var places = document.querySelectorAll("[data-offer]");
  if (!own || !(result || places.length) || !/^https?:$/.test(location.protocol)) return;
  var edition = own.getAttribute("data-edition");
  var top = new URL("../..", own.src);
  var parts = top.pathname.split("/").filter(Boolean);
  var folder = decodeURIComponent(parts[parts.length - 1] || "");
  if (folder !== edition && folder !== edition + "-rerendered") return;

  function today() {
    var now = new Date();
    var pad = function (number) {
      return String(number).padStart(2, "0");
    };
    return now.getFullYear() + "-" + pad(now.getMonth() + 1) + "-" + pad(now.getDate());
  }

  /* The page brings the words, in its language; values go to their places in order. */
  function say(name) {
    var values = Array.prototype.slice.call(arguments, 1);
    return own.getAttribute("data-" + name).replace(/\{\w+\}/g, function () {
      return String(values.shift());
    });
  }

  /* A kit by its id, one of its parts by "kit/part"; what is in the kit's price has none of its own. */
  function offered(offers, id) {
    var names = id.split("/");
    var kit = offers.kits[names[0]];
    return names.length === 1 ? kit : kit && kit.parts && kit.parts[names[1]];
  }

  function whenReady(offer) {
    var said = [];
    if (typeof offer.stock === "number") said.push(say(offer.stock ? "stock" : "none", offer.stock));
    if (typeof offer.lead_time_days === "number") said.push(say("lead", offer.lead_time_days));
    return said.join(", ");
  }

  function words(offer, until) {
    var ready = whenReady(offer);
    return (
      say("price", offer.price) + (ready ? ", " + ready : "") + ". " + (offer.note ? offer.note + " " : "") +
      say("until", until)
    );
  }

  function amount(minor, offers) {
    var unit = Math.pow(10, offers.digits || 0);
    var rest = minor % unit;
    var cents = rest ? "." + String(rest).padStart(offers.digits, "0") : "";
    return Math.floor(minor / unit) + cents + " " + offers.currency;
  }

  /* What a line says behind its price: of one thing, when it is there. */
  function beside(ids, offers) {
    var offer = ids.length === 1 && offered(offers, ids[0]);
    return offer ? [whenReady(offer), offer.note].filter(Boolean).join(". ") : "";
  }

  function isSold(ids, offers) {
    return ids.every(function (id) {
      return offered(offers, id) || id.indexOf("/") > 0;
    });
  }

  /* The price of a line, or nothing: where a kit is not sold, where the part that the line is about is in the kit's price, and
     where a sum would repeat the one price that it has. */
  function line(ids, about, offers) {
    var all = ids.map(function (id) {
      return offered(offers, id);
    });
    var priced = all.filter(Boolean);
    if (!isSold(ids, offers) || (about && !offered(offers, about))) return "";
    if (ids.length === 1) return priced[0].price;
    var sum = priced.reduce(function (before, one) {
      return before + one.minor;
    }, 0);
    return priced.length > 1 ? amount(sum, offers) : "";
  }

  function more(offers) {
    var said = (offers.delivery || []).map(function (one) {
      return typeof one.days === "number" ? say("delivery-days", one.to, one.price, one.days) : say("delivery", one.to, one.price);
    });
    if (offers.taxes) said.push(offers.taxes);
    said.push(offers.valid_from ? say("between", offers.valid_from, offers.valid_until) : say("until", offers.valid_until));
    return said.join(" ");
  }

  function fill(place, offers) {
    var filled = 0;
    place.querySelectorAll("[data-sum]").forEach(function (one) {
      var ids = one.getAttribute("data-sum").split(" ");
      one.textContent = line(ids, one.getAttribute("data-about"), offers).replace(" ", "\u00a0");
      one.nextElementSibling.textContent = beside(ids, offers);
      if (one.textContent) filled += 1;
      else one.parentNode.remove();
    });
    if (!filled) return;
    place.querySelector("[data-offer-more]").textContent = more(offers);
    place.querySelector("[data-offer-lines]").hidden = false;
    place.querySelector("[data-offer-else]").hidden = true;
  }

  /* Beside the self-check's result stands the price of what would be ordered: of the kit, and of what chosen remedies take
     beside it. The result says what that is, and says it anew with every choice. */
  function besideResult(offers) {
    var place = document.createElement("p");
    place.className = "sc-offer";
    function show() {
      var ids = (result.getAttribute("data-ordered") || "").split(" ").filter(Boolean);
      var sum = ids.length > 1 ? line(ids, "", offers) : "";
      var kit = ids.length ? offered(offers, ids[0]) : null;
      if (sum) place.textContent = say("price", sum) + ". " + say("until", offers.valid_until);
      else if (kit && line(ids.slice(0, 1), "", offers)) place.textContent = words(kit, offers.valid_until);
      place.hidden = !(sum || (kit && isSold(ids, offers)));
    }
    new MutationObserver(show).observe(result, { attributes: true, attributeFilter: ["data-ordered"] });
    show();
    (result.querySelector('[data-part="order"]') || result.lastElementChild).insertAdjacentElement("afterend", place);
  }

  fetch(new URL("../offers.json", top).href, { credentials: "omit", cache: "no-cache" })
    .then(function (answer) {
      return answer.ok ? answer.json() : null;
    })
    .then(function (offers) {
      if (!offers || !offers.kits || !(String(offers.valid_until) >= today())) return;
      if (offers.valid_from && String(offers.valid_from) > today()) return;
      if (result) besideResult(offers);
      places.forEach(function (place) {
        fill(place, offers);
      });
    })
    .catch(function () {
      /* Offline, or not there: silent. */
    });
})();
