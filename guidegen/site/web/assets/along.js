/* Takes a guide along: puts all that it needs into the browser's own store, which the worker above the editions
   answers from where the network does not. The list of what that is comes from along.json beside the page. Nothing is
   sent, and nothing happens until somebody asks. */
(function () {
  "use strict";

  var box = document.querySelector("[data-along]");
  if (!box || !/^https?:$/.test(location.protocol) || !("serviceWorker" in navigator) || !("caches" in window)) return;
  var own = document.currentScript;
  var top = new URL("../..", own.src);
  var folder = decodeURIComponent(top.pathname.split("/").filter(Boolean).pop() || "");
  var store = "guidegen-along:" + folder;
  var list = new URL(box.getAttribute("data-along"), location.href).href;
  var take = box.querySelector("[data-take]");
  var leave = box.querySelector("[data-leave]");
  var status = box.querySelector('[role="status"]');

  function word(name, values) {
    return box.getAttribute("data-" + name).replace(/\{(\w+)\}/g, function (_, key) {
      return values[key];
    });
  }

  function two(number) {
    return (number < 10 ? "0" : "") + number;
  }

  function day(moment) {
    var at = new Date(moment);
    return at.getFullYear() + "-" + two(at.getMonth() + 1) + "-" + two(at.getDate());
  }

  function show(held) {
    leave.hidden = !held;
    if (held) take.textContent = word("again", {});
    if (held) status.textContent = word("taken", { date: day(held.taken) });
  }

  function known() {
    return caches
      .has(store)
      .then(function (there) {
        return there ? caches.open(store) : null;
      })
      .then(function (held) {
        return held && held.match(list);
      })
      .then(function (found) {
        return found && found.json();
      })
      .then(function (found) {
        return found && found.taken ? found : null;
      });
  }

  /* A worker that is running, above this page, before anything is said to be taken. A page that was loaded past it has
     it answer from now on. */
  function working() {
    var worker = new URL(box.getAttribute("data-worker"), location.href);
    return navigator.serviceWorker
      .register(worker.href)
      .then(function () {
        return navigator.serviceWorker.ready;
      })
      .then(function (ready) {
        if (!navigator.serviceWorker.controller) ready.active.postMessage("claim");
      });
  }

  function fresh(address) {
    return new Request(address, { cache: "reload", credentials: "omit" });
  }

  /* What is told about editions today is told offline too, with its day; where a site has none, there is nothing. */
  function today() {
    return Promise.all(
      ["notices.json", "versions.json", "offers.json"].map(function (name) {
        return fetch(new URL("../" + name, top).href, { credentials: "omit", cache: "no-store" }).catch(function () {});
      })
    );
  }

  function takeAlong() {
    var what;
    take.disabled = true;
    status.textContent = word("taking", {});
    fetch(fresh(list))
      .then(function (answer) {
        if (!answer.ok) throw new Error(list);
        return answer.json();
      })
      .then(function (found) {
        what = found;
        return working();
      })
      .then(function () {
        return caches.open(store);
      })
      .then(function (held) {
        /* All of it, or nothing. */
        return held
          .addAll(
            what.files.map(function (path) {
              return fresh(new URL(path, top).href);
            })
          )
          .then(function () {
            what.taken = Date.now();
            var type = { headers: { "content-type": "application/json" } };
            return held.put(list, new Response(JSON.stringify(what), type));
          });
      })
      .then(today)
      .then(function () {
        return navigator.storage && navigator.storage.persist ? navigator.storage.persist() : false;
      })
      .then(function (stays) {
        show(what);
        status.textContent += " " + word("size", { size: (what.bytes / 1e6).toFixed(1) });
        if (!stays) status.textContent += " " + word("may-go", {});
      })
      .catch(function () {
        status.textContent = word("failed", {});
      })
      .then(function () {
        take.disabled = false;
        take.focus();
      });
  }

  /* A file that another guide needs as well stays. */
  function remove() {
    caches
      .open(store)
      .then(function (held) {
        return held
          .delete(list)
          .then(function () {
            return held.keys();
          })
          .then(function (keys) {
            var lists = keys.filter(function (key) {
              return /\/along\.json$/.test(new URL(key.url).pathname);
            });
            return Promise.all(
              lists.map(function (key) {
                return held.match(key).then(function (found) {
                  return found.json();
                });
              })
            ).then(function (others) {
              var needed = {};
              others.forEach(function (other) {
                other.files.forEach(function (path) {
                  needed[new URL(path, top).href] = true;
                });
              });
              return Promise.all(
                keys.map(function (key) {
                  return needed[key.url] || lists.indexOf(key) >= 0 ? null : held.delete(key);
                })
              );
            });
          });
      })
      .then(function () {
        leave.hidden = true;
        take.focus();
        status.textContent = word("removed", {});
      });
  }

  take.addEventListener("click", takeAlong);
  leave.addEventListener("click", remove);
  box.hidden = false;
  known()
    .then(show)
    .catch(function () {});
})();
