// The page's one entry: it starts what the page at hand needs.
import { startBench } from "./bench.js";
import { startIndex } from "./index.js";
import { offerOffline } from "./offline.js";

const here = document.querySelector(".top nav a[href]");
for (const a of document.querySelectorAll(".top nav a")) if (new URL(a.href).pathname === location.pathname) a.setAttribute("aria-current", "page");
if (here && document.querySelector("[data-calc]")) startBench();
else if (document.getElementById("places")) startIndex();
else document.documentElement.dataset.ready = "1";
offerOffline();
