// What the pages need beyond the theme: its script at the first touch, light or dark, the search line of the home page.
(function () {
  "use strict";
  var themeScript = document.currentScript.dataset.themeScript;
  var loaded = false;

  // The theme's script (search, menu) costs 35 kB and half a second on a phone: nobody pays before touching the page.
  function loadTheme() {
    if (loaded) return;
    loaded = true;
    var script = document.createElement("script");
    script.src = themeScript;
    document.body.appendChild(script);
  }
  ["pointerdown", "keydown", "mouseover", "scroll"].forEach(function (touch) {
    addEventListener(touch, loadTheme, { once: true, passive: true });
  });
  // A link out of the search carries ?h= for the words to mark.
  if (/[?&][qh]=/.test(location.search)) loadTheme();

  document.querySelector(".scheme").addEventListener("click", function () {
    var scheme = document.body.dataset.mdColorScheme === "slate" ? "default" : "slate";
    document.body.dataset.mdColorScheme = scheme;
    try { localStorage.setItem("valvecalc.scheme", scheme); } catch (e) { /* a blocked store: the choice lasts for this page */ }
  });

  var line = document.querySelector(".search-line");
  if (line) {
    line.addEventListener("click", function () {
      loadTheme();
      var toggle = document.getElementById("__search");
      toggle.checked = true;
      toggle.dispatchEvent(new Event("change"));
      document.querySelector(".md-search__input").focus();
    });
  }
})();
