// The page says everything without this script, which adds values under the pointer, one
// trainee pointed out in all pictures, a choice of arm, and tables to copy.
(() => {
  "use strict";
  const all = (q, from = document) => [...from.querySelectorAll(q)];
  const tools = document.getElementById("tools");
  tools.hidden = false;
  const said = document.getElementById("said");
  const choose = (id, key) => {
    const list = document.getElementById(id);
    const names = [...new Set(all(`[data-${key}]`).map(e => e.dataset[key]).filter(Boolean))];
    if (key === "arm" && names.length < 2) { list.parentElement.hidden = true; return list; }
    for (const name of names) list.add(new Option(name, name));
    return list;
  };
  const arm = choose("arm", "arm");
  arm.addEventListener("change", () => {
    for (const e of all("[data-arm]")) e.hidden = arm.value !== "" && e.dataset.arm !== "" && e.dataset.arm !== "(all)" && e.dataset.arm !== arm.value;
    said.textContent = arm.value ? "Shown: arm " + arm.value : "Shown: all arms";
  });
  const who = choose("who", "trainee");
  who.addEventListener("change", () => {
    document.body.classList.toggle("picked", who.value !== "");
    for (const e of all("[data-trainee]")) e.classList.toggle("chosen", e.dataset.trainee === who.value);
    said.textContent = who.value ? "Pointed out: " + who.value : "Nobody is pointed out";
  });
  for (const table of all("table")) {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "copy";
    button.textContent = "Copy this table";
    button.addEventListener("click", async () => {
      const text = all("tr", table).filter(r => !r.hidden).map(r => [...r.cells].map(c => c.textContent.trim()).join("\t")).join("\n");
      try {
        await navigator.clipboard.writeText(text);
      } catch {
        const area = document.createElement("textarea");
        area.value = text;
        document.body.append(area);
        area.select();
        document.execCommand("copy");
        area.remove();
      }
      button.textContent = "Copied";
      said.textContent = "The table was copied";
      setTimeout(() => { button.textContent = "Copy this table"; }, 2000);
    });
    table.parentElement.after(button);
  }
  const tip = document.createElement("div");
  tip.id = "tip";
  tip.hidden = true;
  document.body.append(tip);
  const text = (v, name, lo, hi) => {
    if (/share/.test(name) && hi <= 1.1) return Math.round(100 * v) + " %";
    if (/attempt|day/.test(name)) return String(Math.round(v));
    return String(Number(v.toPrecision(3)));
  };
  document.addEventListener("pointermove", e => {
    const svg = e.target.closest && e.target.closest("svg");
    tip.hidden = true;
    if (!svg) return;
    for (const axes of all("[data-axes]", svg)) {
      const at = new DOMPoint(e.clientX, e.clientY).matrixTransform(axes.getScreenCTM().inverse());
      const [x0, x1, u0, u1, y0, y1, v0, v1] = axes.dataset.axes.split(" ").map(Number);
      if (at.x < x0 || at.x > x1 || at.y < y0 || at.y > y1) continue;
      const u = u0 + (at.x - x0) / (x1 - x0) * (u1 - u0), v = v0 + (at.y - y0) / (y1 - y0) * (v1 - v0);
      const parts = [(axes.dataset.x || "attempt") + " " + text(u, axes.dataset.x || "attempt", u0, u1)];
      const whose = e.target.closest("[data-trainee]");
      if (axes.dataset.y || whose === null || !axes.closest("[data-forest]")) parts.push((axes.dataset.y || "level") + " " + text(v, axes.dataset.y, v0, v1));
      if (whose) parts.unshift(whose.dataset.trainee);
      tip.textContent = parts.join(", ");
      tip.hidden = false;
      tip.style.left = Math.min(e.clientX + 14, innerWidth - tip.offsetWidth - 4) + "px";
      tip.style.top = (e.clientY + 18) + "px";
      return;
    }
  });
})();
