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
  // A figure says where its axes lie; the nearest mark under the pointer is read off them.
  const number = (v, step) => {
    const places = Math.max(0, -Math.ceil(Math.log10(step) - 1e-9));
    return String(Number(v.toFixed(Math.min(places, 6))));
  };
  const reading = (at, [p0, p1, v0, v1], name, is) => {
    const step = Math.abs((v1 - v0) / (p1 - p0)) * 0.1, v = v0 + (at - p0) / (p1 - p0) * (v1 - v0);
    if (is === "exp") return name + " " + Number(Math.exp(v).toPrecision(3));
    if (is) {
      const places = is.split(";").map(s => [Number(s.slice(0, s.indexOf("="))), s.slice(s.indexOf("=") + 1)]);
      const near = places.reduce((a, b) => Math.abs(b[0] - v) < Math.abs(a[0] - v) ? b : a);
      return Math.abs(near[0] - v) < 0.6 ? near[1] : "";
    }
    if (/share|let through|false passes/.test(name) && v1 <= 1.1) return name + " " + Math.round(100 * v) + " %";
    if (/attempt|day/.test(name) && Math.abs(v - Math.round(v)) < Math.max(0.15, step)) return name + " " + Math.round(v);
    return name + " " + number(v, step);
  };
  const known = new WeakMap();
  // The pieces of a path that is written in steps from place to place, with their corners.
  const pieces = d => {
    const out = [], words = d.match(/[a-z]|-?(?:\d+\.?\d*|\.\d+)/g) || [];
    let i = 0, x = 0, y = 0, command = "", piece = null;
    const next = () => Number(words[i++]);
    const corner = () => piece.spots.push([x, y]);
    while (i < words.length) {
      if (/[a-z]/.test(words[i])) command = words[i++];
      if (command === "m") {
        x += next(); y += next();
        piece = {spots: [[x, y]], round: 0};
        out.push(piece);
        command = "l";
      } else if (command === "l") {
        x += next(); y += next(); corner();
      } else if (command === "h") {
        const by = next();
        x += by;
        if (by) corner();
      } else if (command === "v") {
        y += next(); corner();
      } else if (command === "a") {
        piece.round = next();
        i += 4;
        x += next(); y += next();
      } else if (command === "c" || command === "q") {
        i += command === "c" ? 4 : 2;
        x += next(); y += next(); corner();
      } else if (command === "z") {
        [x, y] = piece.spots[0];
      } else {
        break;
      }
    }
    return out;
  };
  // Places of marks in a figure: every corner of a line, the middle of anything small.
  const marks = svg => {
    if (known.has(svg)) return known.get(svg);
    const out = [];
    for (const path of all("path", svg)) {
      for (const piece of pieces(path.getAttribute("d"))) {
        let spots = piece.spots;
        if (piece.round) spots = [[spots[0][0] - piece.round, spots[0][1]]];
        const xs = spots.map(s => s[0]), ys = spots.map(s => s[1]);
        const wide = Math.max(...xs) - Math.min(...xs), high = Math.max(...ys) - Math.min(...ys);
        if (spots.length > 1 && wide < 9 && high < 9 && wide > 0.2 && high > 0.2) {
          spots = [[xs.reduce((a, b) => a + b) / xs.length, ys.reduce((a, b) => a + b) / ys.length]];
        }
        for (const s of spots) out.push([s[0], s[1], path]);
      }
    }
    known.set(svg, out);
    return out;
  };
  const show = e => {
    const svg = e.target.closest && e.target.closest("svg");
    tip.hidden = true;
    if (!svg) return;
    for (const axes of all("[data-axes]", svg)) {
      const screen = axes.getScreenCTM(), at = new DOMPoint(e.clientX, e.clientY).matrixTransform(screen.inverse());
      const [x0, x1, u0, u1, y0, y1, v0, v1] = axes.dataset.axes.split(" ").map(Number);
      if (at.x < x0 - 4 || at.x > x1 + 4 || at.y < y0 - 4 || at.y > y1 + 4) continue;
      let best = null, least = 16 / screen.a;
      for (const m of marks(svg)) {
        if (m[0] < x0 - 0.3 || m[0] > x1 + 0.3 || m[1] < y0 - 0.3 || m[1] > y1 + 0.3) continue;
        const far = Math.hypot(m[0] - at.x, m[1] - at.y);
        if (far < least) [best, least] = [m, far];
      }
      if (!best) return;
      const whose = best[2].closest("[data-trainee]");
      const parts = [reading(best[0], [x0, x1, u0, u1], axes.dataset.x, axes.dataset.xIs), reading(best[1], [y0, y1, v0, v1], axes.dataset.y, axes.dataset.yIs)].map(s => s.trim());
      if (whose && !parts.includes(whose.dataset.trainee)) parts.unshift(whose.dataset.trainee);
      tip.textContent = parts.filter(Boolean).join(", ");
      tip.hidden = tip.textContent === "";
      tip.style.left = Math.max(4, Math.min(e.clientX + 14, innerWidth - tip.offsetWidth - 4)) + "px";
      tip.style.top = Math.min(e.clientY + 18, innerHeight - tip.offsetHeight - 4) + "px";
      return;
    }
  };
  document.addEventListener("pointermove", show);
  document.addEventListener("pointerdown", show);
})();
