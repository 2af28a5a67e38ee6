"use strict";
// Search and filter. Without this script the page is whole: all of it shows, and the form that asks stays hidden.
(function () {
  const form = document.getElementById("find");
  const box = document.getElementById("word");
  const stage = document.getElementById("stage");
  const withCauses = document.getElementById("with-causes");
  const told = document.getElementById("told");
  const plain = (text) => text.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").toLowerCase().replace(/[-/_\s]+/g, " ");
  const links = (item) => Array.from(item.querySelectorAll("a[href^='#']"), (link) => link.getAttribute("href").slice(1));
  const things = Array.from(document.querySelectorAll("[data-kind]"), (item) => ({
    item: item,
    kind: item.dataset.kind,
    stages: item.dataset.stages ? item.dataset.stages.split(" ") : [],
    names: plain(item.dataset.find || item.textContent),
    text: "",
    leads: item.dataset.kind === "cause" ? links(item).filter((name) => name.startsWith("check-")) : links(item),
    card: document.getElementById("look-" + item.id),
  }));
  const groups = Array.from(document.querySelectorAll("[data-group]"));
  const main = (thing) => thing.kind === "sign" || thing.kind === "cause";
  const counted = (count, one, many) => count + " " + (count === 1 ? one : many);

  function wanted(thing, words, whole) {
    if (stage.value && main(thing) && !thing.stages.includes(stage.value)) return false;
    if (whole && !thing.text) thing.text = plain(thing.item.textContent);
    const text = whole ? thing.text : thing.names;
    return words.every((word) => text.includes(word));
  }

  // Signs and causes that were asked for, then the causes of those signs, their checks, and the words that name them.
  function gather(words, whole) {
    const kept = new Set(things.filter((thing) => main(thing) && wanted(thing, words, whole)));
    const led = () => new Set(Array.from(kept).flatMap((thing) => thing.leads));
    if (withCauses.checked) {
      const causes = led();
      for (const thing of things) {
        const here = !stage.value || thing.stages.includes(stage.value);
        if (thing.kind === "cause" && here && causes.has(thing.item.id)) kept.add(thing);
      }
    }
    const checks = led();
    const shown = new Set(Array.from(kept, (thing) => thing.item.id));
    for (const thing of things) {
      if (main(thing)) continue;
      const joined = thing.kind === "check" ? checks.has(thing.item.id) : thing.leads.some((name) => shown.has(name));
      if (joined || (words.length && wanted(thing, words, whole))) kept.add(thing);
    }
    return kept;
  }

  function show(thing, shown) {
    thing.item.hidden = !shown;
    if (thing.card) thing.card.hidden = !shown;
  }

  function tidy() {
    for (const group of groups) {
      group.hidden = !group.querySelector("[data-kind]:not([hidden]), .card:not([hidden])");
    }
  }

  function look() {
    const words = plain(box.value).trim().split(" ").filter(Boolean);
    const asked = words.length > 0 || stage.value !== "";
    let kept = asked ? gather(words, false) : new Set(things);
    const whole = words.length > 0 && !Array.from(kept).some(main);
    if (whole) kept = gather(words, true);
    for (const thing of things) show(thing, kept.has(thing));
    tidy();
    const count = (kind) => Array.from(kept).filter((thing) => thing.kind === kind).length;
    const says = counted(count("sign"), "sign", "signs") + " and " + counted(count("cause"), "cause", "causes") + " shown.";
    const where = whole && kept.size ? " No name here holds it, so the whole text was searched." : "";
    const next = kept.size ? " Printing prints what is shown, and safety." : " Try one word, or another name for it.";
    told.textContent = asked ? says + where + next : "";
  }

  function reveal(name) {
    const target = name && document.getElementById(decodeURIComponent(name));
    const thing = target && things.find((one) => one.item.contains(target));
    if (!thing || !thing.item.hidden) return null;
    show(thing, true);
    tidy();
    return target;
  }

  document.addEventListener("click", (event) => {
    const link = event.target.closest("a[href^='#']");
    if (link) reveal(link.getAttribute("href").slice(1));
  }, true);
  window.addEventListener("hashchange", () => {
    const target = reveal(location.hash.slice(1));
    if (target) target.scrollIntoView();
  });
  document.addEventListener("keydown", (event) => {
    const typing = /^(INPUT|SELECT|TEXTAREA)$/.test(event.target.tagName || "");
    if (event.key === "/" && !typing && !event.ctrlKey && !event.metaKey && !event.altKey) {
      event.preventDefault();
      box.focus();
    }
  });
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("reset", () => setTimeout(look));
  box.addEventListener("input", look);
  stage.addEventListener("change", look);
  withCauses.addEventListener("change", look);
  form.hidden = false;
  look();
})();
