// What the pages do beside what forms and links do of themselves: the moment as it changes, the clock of a wait, the keys for a value,
// what a scanner types, and plain words when the connection is lost. Nothing counts as taken before the workshop's machine has said so.
"use strict";
(() => {
  const root = document.getElementById("job");
  const said = document.getElementById("said");
  const lost = document.getElementById("lost");

  // A scanner types fast and ends with Enter: in the number of a vehicle that leads to the next field and not to the end of the form.
  document.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && event.target.matches?.("input[data-scan]")) {
      event.preventDefault();
      const all = [...event.target.form.elements].filter((one) => one.type !== "hidden");
      all[all.indexOf(event.target) + 1]?.focus();
    }
  });
  if (!root) return;

  const moment = () => root.firstElementChild;
  const address = (what) => `/job/${moment().dataset.job}/${what}`;
  let ahead = 0; // how far the clock of the workshop's machine is ahead of this one, in milliseconds
  let heard = Date.now();
  let sending = null;
  let rung = "";

  // Puts a moment in the place of the one that is shown. What is typed stays where the question is the same.
  function show(html) {
    const field = document.getElementById("text");
    const kept = field ? { typed: field.value, from: field.selectionStart, to: field.selectionEnd } : null;
    const before = moment().dataset.moment;
    const there = document.activeElement;
    const focused = there && there.id;
    root.innerHTML = html;
    const now = moment().dataset.moment;
    if (now === before && kept) {
      const next = document.getElementById("text");
      if (next) {
        next.value = kept.typed;
        if (focused === "text") { next.focus(); next.setSelectionRange(kept.from, kept.to); }
      }
    }
    ready(now !== before);
    if (now !== before) {
      const words = [...root.querySelectorAll("[data-said]")].map((one) => one.dataset.said);
      const heed = [...root.querySelectorAll(".message")].map((one) => one.textContent);
      const asked = root.querySelector(".says");
      said.textContent = [...words, ...heed, asked ? asked.textContent : ""].join(". ");
      scrollTo(0, 0);
    }
  }

  async function fetchMoment() {
    try {
      const answer = await fetch(address("now"), { cache: "no-store" });
      if (answer.ok) { show(await answer.text()); found(); }
      else if (answer.status === 401) out();
    } catch { gone(); }
  }

  // The connection: told in words, and what is typed stays.
  function gone() {
    if (lost.textContent) return;
    lost.textContent = "⚠ No connection: nothing is taken now. What you typed stays; tap again when this is gone.";
  }
  // The device was shut out at the workshop's machine: no connection that comes back changes that.
  function out() {
    lost.textContent = "⚠ This device may no longer come in: nothing is taken. Load the page to let it in again.";
  }
  function found() { heard = Date.now(); lost.textContent = ""; }

  // Sends a form; the screen changes only by what the workshop's machine answers.
  document.addEventListener("submit", async (event) => {
    const form = event.target;
    if (!root.contains(form)) return;
    event.preventDefault();
    if (sending) return;
    const fields = new URLSearchParams(new FormData(form));
    const by = event.submitter;
    if (by && by.name) fields.append(by.name, by.value);
    sending = true;
    for (const one of form.querySelectorAll("button")) one.setAttribute("aria-disabled", "true");
    try {
      const answer = await fetch(form.action, { method: "POST", body: fields, headers: { "x-bay-moment": "1" } });
      const text = await answer.text();
      found();
      if (answer.ok || answer.status === 409) {
        const typed = document.getElementById("text")?.value;
        show(text);
        const next = document.getElementById("text");
        if (answer.status === 409 && next && typed && !next.value) next.value = typed;
      } else { said.textContent = "not taken"; lost.textContent = `⚠ Not taken: the workshop's machine answered ${answer.status}. Load the page again.`; }
    } catch {
      gone();
    } finally {
      sending = null;
      for (const one of root.querySelectorAll("form button")) one.removeAttribute("aria-disabled");
    }
  });

  // What happens at the job, as it happens.
  function listen() {
    const stream = new EventSource(address("live"));
    const at = (name) => { if (name !== moment().dataset.moment && !sending) fetchMoment(); };
    stream.addEventListener("moment", (event) => { found(); at(event.data); });
    stream.addEventListener("beat", (event) => {
      const [time, name] = event.data.split(" ");
      ahead = Number(time) - Date.now();
      found();
      at(name);
    });
    stream.addEventListener("live", (event) => { found(); live(JSON.parse(event.data)); });
    stream.onerror = () => {
      if (stream.readyState !== EventSource.CLOSED) return;
      // Why it was closed is not told here; the same question, asked plainly, is answered.
      fetchMoment();
      setTimeout(listen, 2000);
    };
  }

  let silent = 0;
  function live(known) {
    const box = document.getElementById("live");
    if (!box) return;
    box.hidden = !known;
    const take = document.getElementById("take-live");
    if (take) take.hidden = !known?.take;
    clearTimeout(silent);
    if (!known) return;
    if (take && known.take) take.textContent = known.take;
    document.getElementById("live-name").textContent = `${known.name ?? "The instrument"} shows, not taken yet:`;
    document.getElementById("live-value").textContent = known.shown;
    document.getElementById("live-stands").textContent = known.stands;
    point(known.at);
    silent = setTimeout(() => {
      document.getElementById("live-value").textContent = "no reading";
      document.getElementById("live-stands").textContent = "the instrument has fallen silent";
      point(null);
    }, 2500);
  }
  function point(at) {
    const mark = root.querySelector(".scale .mark");
    if (!mark) return;
    mark.classList.toggle("unset", at === null);
    if (at !== null) mark.setAttribute("d", `M${Number(at).toFixed(1)} 78 l-20 -50 h40 z`);
  }

  // The clock of a wait: by the clock of the workshop's machine, so that it is right after the screen has slept.
  function clock() {
    const box = root.querySelector(".clock");
    if (Date.now() - heard > 10000) gone();
    if (!box) return;
    const left = Math.min(Number(box.dataset.seconds), Math.max(0, Math.ceil((Number(box.dataset.until) - (Date.now() + ahead)) / 1000)));
    const [hours, minutes, seconds] = [Math.floor(left / 3600), Math.floor(left / 60) % 60, String(left % 60).padStart(2, "0")];
    box.querySelector(".value").textContent = hours ? `${hours}:${String(minutes).padStart(2, "0")}:${seconds}` : `${minutes}:${seconds}`;
    box.querySelector(".left").textContent = left ? "left" : "the time is over";
    if (!left && rung !== box.dataset.until) {
      rung = box.dataset.until;
      said.textContent = "The time is over";
      ring();
    }
  }
  // While a time is counted the screen stays bright, where the device lets it.
  let awake = null;
  async function bright(wanted) {
    try {
      if (wanted && !awake) { awake = await navigator.wakeLock.request("screen"); awake.addEventListener("release", () => { awake = null; }); }
      else if (!wanted && awake) await awake.release();
    } catch { /* It dims: the clock is right all the same. */ }
  }
  function ring() {
    try {
      const sound = new AudioContext();
      const tone = sound.createOscillator();
      tone.frequency.value = 880;
      tone.connect(sound.destination);
      tone.start();
      tone.stop(sound.currentTime + 0.8);
      navigator.vibrate?.(600);
    } catch { /* No sound: the words are there. */ }
  }

  // The keys for a value, in the page: large, and nothing moves as with a keyboard of the device.
  const KEYS = ["7", "8", "9", "⌫", "4", "5", "6", "−", "1", "2", "3", "take", "0", ",", "…", "<", ">", "/", "blank"];
  const NAMES = { "⌫": "delete the last", "−": "minus", "<": "below", ">": "above", ",": "decimal mark", "/": "over, for a fraction", "…": "more keys" };
  const TYPED = { "−": "-", blank: " " };
  function keys(field) {
    const box = document.createElement("div");
    box.className = "keys";
    box.setAttribute("role", "group");
    box.setAttribute("aria-label", "Keys for the value");
    const more = [];
    for (const key of KEYS) {
      if (key === "take") { box.append(document.getElementById("take")); continue; }
      const button = document.createElement("button");
      button.type = "button";
      button.className = "button";
      button.textContent = key;
      if (NAMES[key]) button.setAttribute("aria-label", NAMES[key]);
      if (more.length || key === "<") { more.push(button); button.hidden = true; }
      button.addEventListener("click", () => {
        if (key === "…") {
          for (const one of more) one.hidden = !one.hidden;
          button.setAttribute("aria-expanded", String(!more[0].hidden));
          below();
          return;
        }
        if (key === "⌫") field.value = field.value.slice(0, -1);
        else field.value += TYPED[key] ?? key;
        field.dispatchEvent(new Event("input", { bubbles: true }));
      });
      if (key === "…") button.setAttribute("aria-expanded", "false");
      box.append(button);
    }
    field.closest("form").querySelector(".entry").after(box);
    // A keyboard of the device stays away where fingers touch; one that is plugged in, and a scanner, type all the same.
    if (matchMedia("(pointer: coarse)").matches) field.inputMode = "none";
  }

  // What does not fit is told, and turned to by a tap.
  function below() {
    const down = document.getElementById("down");
    if (!down) return;
    const rest = document.documentElement.scrollHeight - innerHeight - scrollY;
    down.hidden = rest < 24;
  }
  document.addEventListener("scroll", below, { passive: true });
  addEventListener("resize", below);
  document.addEventListener("click", (event) => {
    if (event.target.closest?.("#down")) scrollBy(0, innerHeight * 0.6);
  });

  let asking = 0;
  document.addEventListener("input", (event) => {
    if (event.target.id !== "text" || !document.getElementById("understood")) return;
    clearTimeout(asking);
    asking = setTimeout(async () => {
      const typed = event.target.value;
      try {
        const answer = await fetch(`${address("understood")}?text=${encodeURIComponent(typed)}`);
        const box = document.getElementById("understood");
        if (answer.ok && box && document.getElementById("text")?.value === typed) box.textContent = await answer.text();
      } catch { /* It is only a help. */ }
    }, 250);
  });

  function ready(fresh) {
    const reading = root.querySelector("input.reading");
    if (reading) keys(reading);
    const first = root.querySelector("[data-first]");
    if (fresh && first) first.focus({ preventScroll: true });
    else if (fresh) (root.querySelector(".button.strong") ?? root.querySelector("#answer .button"))?.focus({ preventScroll: true });
    const box = document.getElementById("live");
    if (box && box.dataset.at) point(box.dataset.at);
    const wait = root.querySelector(".clock");
    if ("wakeLock" in navigator) bright(Boolean(wait));
    if (wait) ahead = Number(wait.dataset.now) - Date.now();
    clock();
    below();
  }

  ready(true);
  listen();
  setInterval(clock, 500);
  document.addEventListener("visibilitychange", () => { if (!document.hidden) fetchMoment(); });
})();
