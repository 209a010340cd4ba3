// The element tells of every answer.
document.addEventListener("sheet", (event) => {
  const r = event.detail;
  const v = r.ok ? Object.values(r.values)[0] : undefined;
  document.getElementById("heard").textContent = v ? `${v.text} ± ${v.plusMinus} ${v.unit}, ${r.verdicts[0]?.word}` : "none yet";
});
