/* Answers from what a reader took along. What was taken of an edition comes from the device first, since an edition never
   changes; everything else, the draft too, comes from the network, and from the device only where that fails. What is
   told about editions is asked anew each time, past every cache, and kept with its day. A guide that was withdrawn is
   dropped as soon as that is known. Without a network, a page that was not taken leads to away.html. */
(function () {
  "use strict";

  var ALONG = "guidegen-along:";
  var ROOT = "guidegen-root";
  var AWAY = "away.html";
  var ANEW = "-rerendered";
  var DRAFT = "next";
  var TODAY = ["notices.json", "versions.json", "offers.json"];
  var TAKEN = "guidegen-taken";
  var top = new URL(self.registration.scope);

  self.addEventListener("install", function (event) {
    event.waitUntil(
      caches
        .open(ROOT)
        .then(function (held) {
          return held.add(new Request(new URL(AWAY, top).href, { cache: "reload" }));
        })
        .then(function () {
          return self.skipWaiting();
        })
    );
  });

  self.addEventListener("activate", function (event) {
    event.waitUntil(self.clients.claim());
  });

  /* A page that was loaded past the worker asks to be answered by it all the same. */
  self.addEventListener("message", function (event) {
    if (event.data === "claim") event.waitUntil(self.clients.claim());
  });

  self.addEventListener("fetch", function (event) {
    if (event.request.cache === "reload") return;
    var url = new URL(event.request.url);
    if (event.request.method !== "GET" || url.origin !== top.origin || url.pathname.indexOf(top.pathname) !== 0) return;
    var inside = decodeURIComponent(url.pathname.slice(top.pathname.length));
    var folder = inside.split("/")[0];
    if (inside === AWAY) event.respondWith(away());
    else if (TODAY.indexOf(inside) >= 0) event.respondWith(told(url, inside));
    else if (folder !== DRAFT) event.respondWith(deviceFirst(event.request, folder));
    else event.respondWith(networkFirst(event.request, folder));
  });

  /* What was taken of an edition, else nothing. */
  function taken(request, folder) {
    return caches.has(ALONG + folder).then(function (there) {
      if (!there) return undefined;
      return caches.open(ALONG + folder).then(function (held) {
        return held
          .match(request, { ignoreSearch: true, ignoreVary: true })
          .then(function (found) {
            if (found || !/\/$/.test(new URL(request.url).pathname)) return found;
            var page = new URL(request.url);
            page.pathname += "index.html";
            return held.match(page.href, { ignoreSearch: true, ignoreVary: true });
          })
          .then(direct);
      });
    });
  }

  /* Browsers take no redirected answer for a page. */
  function direct(found) {
    return found && found.redirected ? new Response(found.body, { headers: found.headers }) : found;
  }

  function deviceFirst(request, folder) {
    return taken(request, folder).then(function (found) {
      return found || networkFirst(request, folder);
    });
  }

  /* A server that fails counts as none where the device has what was asked for. */
  function networkFirst(request, folder) {
    return fetch(request).then(
      function (answer) {
        if (answer.status < 500) return answer;
        return taken(request, folder).then(function (found) {
          return found || answer;
        });
      },
      function (failed) {
        return taken(request, folder).then(function (found) {
          if (found) return found;
          if (request.mode !== "navigate") throw failed;
          // By its own address, so that its links lead where they should.
          return Response.redirect(new URL(AWAY, top).href, 302);
        });
      }
    );
  }

  /* As it was when the worker came, with the guides that are here now. */
  function away() {
    return caches.open(ROOT).then(function (held) {
      return Promise.all([held.match(new URL(AWAY, top).href), guides()]).then(function (both) {
        return both[0].text().then(function (text) {
          var headers = new Headers(both[0].headers);
          headers.delete("content-length");
          headers.delete("content-encoding");
          return new Response(text.replace("<!-- taken -->", both[1].map(item).join("")), { headers: headers });
        });
      });
    });
  }

  /* What the server tells today; what it told before where it does not answer, fails, or answers something else. */
  function told(url, name) {
    var key = new URL(name, top).href;
    return fetch(url.href, { cache: "no-store", credentials: "omit" })
      .then(function (answer) {
        if (!answer.ok) throw answer;
        return answer
          .clone()
          .text()
          .then(function (text) {
            var says = JSON.parse(text);
            if (!says || typeof says !== "object") throw new TypeError(name);
            return hold(key, text)
              .catch(function () {
                /* No room: the answer itself is as good as ever. */
              })
              .then(function () {
                return name === TODAY[0] ? drop(says) : null;
              });
          })
          .then(function () {
            return answer;
          });
      })
      .catch(function (failed) {
        return caches
          .open(ROOT)
          .then(function (held) {
            return held.match(key);
          })
          .then(function (found) {
            if (found) return found;
            if (failed instanceof Response) return failed;
            throw failed;
          });
      });
  }

  function hold(key, text) {
    var headers = { "content-type": "application/json" };
    headers[TAKEN] = new Date().toISOString();
    return caches.open(ROOT).then(function (held) {
      return held.put(key, new Response(text, { headers: headers }));
    });
  }

  /* Whoever took a guide along that was withdrawn since gets the page that stops it. */
  function drop(notices) {
    var editions = notices.editions || {};
    return Promise.all(
      Object.keys(editions).map(function (edition) {
        var gone = Object.keys(editions[edition]).filter(function (guide) {
          return editions[edition][guide].state === "withdrawn";
        });
        return Promise.all(
          [edition, edition + ANEW].map(function (folder) {
            return gone.length ? dropFrom(ALONG + folder, gone) : null;
          })
        );
      })
    );
  }

  function dropFrom(store, gone) {
    return caches.has(store).then(function (there) {
      if (!there) return null;
      return caches.open(store).then(function (held) {
        return held.keys().then(function (keys) {
          return Promise.all(
            keys.map(function (key) {
              var path = decodeURIComponent(new URL(key.url).pathname);
              var of = gone.some(function (guide) {
                return concerned(path, guide);
              });
              return of ? held.delete(key) : null;
            })
          );
        });
      });
    });
  }

  /* Whether a file belongs to a guide or instructs by it, as a page of two kits does, or a sheet. */
  function concerned(path, guide) {
    if (path.indexOf("/guides/" + guide + "/") >= 0) return true;
    var name = guide.split("/");
    if (!/\.(html|pdf)$/.test(path)) return false;
    var parts = path.replace(/\.[a-z]+$/, "").split("/");
    var both = parts.indexOf(name[0]) >= 0 && parts[parts.length - 1] === "with-" + name[1];
    return both || ("/" + parts.join("/") + "/").indexOf("/" + guide + "/") >= 0;
  }

  /* Every guide that was taken, as its list says. */
  function guides() {
    return caches.keys().then(function (names) {
      var stores = names.filter(function (name) {
        return name.indexOf(ALONG) === 0;
      });
      return Promise.all(stores.map(listed)).then(function (all) {
        return [].concat.apply([], all);
      });
    });
  }

  function listed(name) {
    var folder = name.slice(ALONG.length);
    return caches.open(name).then(function (held) {
      return held.keys().then(function (keys) {
        var lists = keys.filter(function (key) {
          return /\/along\.json$/.test(new URL(key.url).pathname);
        });
        return Promise.all(
          lists.map(function (key) {
            return held
              .match(key)
              .then(function (found) {
                return found.json();
              })
              .then(function (one) {
                return { title: one.title, edition: folder, href: new URL(folder + "/" + one.page, top).href };
              });
          })
        );
      });
    });
  }

  function item(one) {
    return '<li><a href="' + safe(one.href) + '">' + safe(one.title) + "</a> (" + safe(one.edition) + ")</li>";
  }

  function safe(text) {
    return String(text).replace(/[&<>"']/g, function (sign) {
      return "&#" + sign.charCodeAt(0) + ";";
    });
  }
})();
