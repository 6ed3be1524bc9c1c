// Asks the watching program every second whether something has changed. Whoever looks must never trust a page that nobody keeps
// up to date: the first question without an answer is told.
"use strict";
const EVERY_MS = 1000, PATIENCE_MS = 4000;
const now = document.getElementById("now"), told = document.getElementById("told"), lost = document.getElementById("lost");
let tag = "", heard = new Date(), timer = 0;

function show(text) {
  now.innerHTML = text;
  const news = document.getElementById("news")?.dataset.told ?? "";
  if (told.textContent !== news) told.textContent = news;
}

function connected() {
  heard = new Date();
  lost.hidden = true;
  document.body.classList.remove("stale");
}

function disconnected() {
  lost.textContent = lost.dataset.told.replace("%TIME%", heard.toLocaleTimeString());
  lost.hidden = false;
  document.body.classList.add("stale");
}

async function ask() {
  clearTimeout(timer);
  try {
    const answer = await fetch("/now", { cache: "no-store", headers: { "If-None-Match": tag }, signal: AbortSignal.timeout(PATIENCE_MS) });
    if (answer.status === 200) {
      show(await answer.text());
      tag = answer.headers.get("ETag") ?? "";
    } else if (answer.status !== 304) {
      throw new Error(String(answer.status));
    }
    connected();
  } catch {
    disconnected();
  }
  timer = setTimeout(ask, EVERY_MS);
}

document.addEventListener("visibilitychange", () => { if (!document.hidden) ask(); });
ask();
