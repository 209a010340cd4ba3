import { t } from "./words.js";

// Leaving a field writes the page's address, for which a browser asks for the
// icon again. Where that request finds the old worker already asked to go, it
// starts it anew, and Chromium keeps the new one waiting, for minutes at worst.
const quiet = 500; // ms for such a request to be over

// The service worker: kept pages work offline; a new version asks first.
export async function offerOffline() {
  if (!("serviceWorker" in navigator)) return;
  const root = new URL(document.documentElement.dataset.root, location.href);
  const news = document.getElementById("news");
  let first = !navigator.serviceWorker.controller;
  try {
    const reg = await navigator.serviceWorker.register(new URL("sw.js", root), { scope: root.pathname });
    const ask = (worker) => {
      const take = document.createElement("button");
      take.type = "button";
      take.textContent = t("Take it now");
      take.addEventListener("click", () => {
        first = false;
        news.textContent = t("The newer version is being taken; the page then opens anew.");
        setTimeout(() => worker.postMessage("take over"), quiet);
      });
      news.replaceChildren(t("A newer version is ready.") + " ", take);
      news.hidden = false;
    };
    if (reg.waiting && navigator.serviceWorker.controller) ask(reg.waiting);
    reg.addEventListener("updatefound", () => {
      const worker = reg.installing;
      worker.addEventListener("statechange", () => {
        if (worker.state === "installed" && navigator.serviceWorker.controller) ask(worker);
      });
    });
    let reloading = false;
    navigator.serviceWorker.addEventListener("controllerchange", () => {
      // The first worker of a first visit changes nothing that is shown.
      if (reloading || first) {
        first = false;
        return;
      }
      reloading = true;
      location.reload(); // only after the button above; what is typed is kept
    });
    await navigator.serviceWorker.ready;
    document.documentElement.dataset.offline = "1";
  } catch {
    // No storage, or not a secure origin: the page works, online only.
  }
}
