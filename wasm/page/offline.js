import { t } from "./words.js";

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
        worker.postMessage("take over");
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
