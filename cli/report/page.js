// Steps through runs. Each run brings its own data as JSON: for every signal the ticks from which it has a value.
// The picture of the design is drawn once on the page; each run gets a copy of it, to light up.
(() => {
  "use strict";

  const picture = document.querySelector("#design svg.picture");

  /** The last entry of `list` whose first number is at most `tick`. */
  function at(list, tick) {
    let low = 0;
    let high = list.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (list[middle][0] <= tick) low = middle;
      else high = middle - 1;
    }
    return list[low];
  }

  /** Exact: microseconds are whole numbers. */
  function seconds(tick, tickUs) {
    const us = BigInt(tick) * BigInt(tickUs);
    const whole = us / 1000000n;
    const rest = String(us % 1000000n).padStart(6, "0").replace(/0+$/, "");
    return rest ? `${whole}.${rest}` : `${whole}`;
  }

  function group(elements) {
    const found = new Map();
    for (const element of elements) {
      const signal = Number(element.dataset.s);
      if (!found.has(signal)) found.set(signal, []);
      found.get(signal).push(element);
    }
    return found;
  }

  class Player {
    constructor(root) {
      this.root = root;
      this.run = JSON.parse(root.querySelector("script").textContent);
      this.last = this.run.ticks - 1;
      this.tick = 0;
      this.slider = root.querySelector("input");
      this.clock = root.querySelector(".clock");
      this.told = root.querySelector(".told");
      this.timing = root.querySelector(".timing");
      this.now = root.querySelector(".now");
      this.places = this.timing.dataset.places.split(" ").map((place) => place.split(",").map(Number));
      this.rows = group(root.querySelectorAll(".names-row"));
      this.story = [...root.querySelectorAll(".story > li")];
      this.nodes = new Map();
      this.edges = [];
      if (this.run.picture && picture) this.takePicture();
      this.listen();
      root.querySelector(".controls").hidden = false;
      this.told.hidden = false;
      this.show(0, false);
    }

    takePicture() {
      const stage = this.root.querySelector(".stage");
      const copy = picture.cloneNode(true);
      copy.removeAttribute("aria-label");
      copy.setAttribute("aria-hidden", "true");
      for (const link of copy.querySelectorAll("a")) link.setAttribute("tabindex", "-1");
      stage.append(copy);
      stage.hidden = false;
      copy.classList.add("stepped");
      this.nodes = group(copy.querySelectorAll(".node"));
      this.edges = [...copy.querySelectorAll(".edge")];
      const bearing = new Set(this.run.bearing);
      for (const [signal, nodes] of this.nodes) {
        for (const node of nodes) node.classList.toggle("aside", !bearing.has(signal));
      }
      for (const edge of this.edges) {
        const both = bearing.has(Number(edge.dataset.from)) && bearing.has(Number(edge.dataset.to));
        edge.classList.toggle("aside", !both);
      }
    }

    listen() {
      this.root.addEventListener("keydown", (event) => this.key(event));
      this.slider.addEventListener("input", () => this.show(Number(this.slider.value), true));
      for (const button of this.root.querySelectorAll("[data-go]")) {
        button.addEventListener("click", () => this.go(button.dataset.go));
      }
      for (const step of this.story) {
        const when = step.querySelector(".when");
        const button = document.createElement("button");
        button.type = "button";
        button.className = "when";
        button.textContent = when.textContent;
        button.addEventListener("click", () => this.show(Number(step.dataset.tick), true));
        when.replaceWith(button);
      }
      this.timing.querySelector("svg").addEventListener("click", (event) => this.show(this.tickAt(event), true));
    }

    key(event) {
      if (event.altKey || event.ctrlKey || event.metaKey) return;
      const ways = {
        ArrowRight: event.shiftKey ? "tick-on" : "event-on",
        ArrowLeft: event.shiftKey ? "tick-back" : "event-back",
        Home: "first",
        End: "last",
      };
      const way = ways[event.key];
      if (!way) return;
      event.preventDefault();
      this.go(way);
    }

    go(way) {
      const events = this.run.events;
      const to = {
        "first": 0,
        "last": this.last,
        "tick-on": this.tick + 1,
        "tick-back": this.tick - 1,
        "event-on": events.find((tick) => tick > this.tick) ?? this.last,
        "event-back": events.findLast((tick) => tick < this.tick) ?? 0,
      };
      this.show(to[way], true);
    }

    tickAt(event) {
      const box = event.currentTarget.getBoundingClientRect();
      const x = ((event.clientX - box.left) * event.currentTarget.viewBox.baseVal.width) / box.width;
      const place = this.places.findLast((one) => one[2] <= x) ?? this.places[0];
      const [from, end, left, width] = place;
      return from + Math.floor(Math.min(Math.max((x - left) / width, 0), 0.999) * (end - from));
    }

    show(tick, tell) {
      this.tick = Math.min(Math.max(tick, 0), this.last);
      const when = `${seconds(this.tick, this.run.tickUs)} s, tick ${this.tick}`;
      this.slider.value = this.tick;
      this.slider.setAttribute("aria-valuetext", when);
      this.clock.textContent = when;
      this.root.dataset.tick = this.tick;
      this.root.classList.toggle("at-end", this.tick === this.last);
      for (const button of this.root.querySelectorAll("[data-go]")) {
        const back = button.dataset.go === "first" || button.dataset.go.endsWith("back");
        button.setAttribute("aria-disabled", String(back ? this.tick === 0 : this.tick === this.last));
      }
      this.run.signals.forEach((signal, index) => this.showSignal(signal, index));
      for (const edge of this.edges) edge.classList.toggle("lit", this.isOn(Number(edge.dataset.from)));
      this.showCursor(tell);
      this.showStory(when);
      if (tell) this.followPicture();
    }

    /** On a narrow screen: what has just changed is to be seen. */
    followPicture() {
      const stage = this.root.querySelector(".stage");
      const fresh = stage.querySelector(".node.fresh:not(.aside)");
      if (!fresh || stage.scrollWidth <= stage.clientWidth) return;
      const seen = stage.getBoundingClientRect();
      const node = fresh.getBoundingClientRect();
      if (node.left < seen.left || node.right > seen.right) {
        stage.scrollLeft += node.left - seen.left - (seen.width - node.width) / 2;
      }
    }

    /** A level is neither on nor off. */
    isOn(signal) {
      return !this.run.signals[signal].level && at(this.run.signals[signal].spans, this.tick)[1] !== 0;
    }

    showSignal(signal, index) {
      const [from, value, words] = at(signal.spans, this.tick);
      const fresh = from === this.tick && this.tick > 0;
      for (const row of this.rows.get(index) ?? []) {
        row.querySelector(".value").textContent = words;
        row.classList.toggle("on", this.isOn(index));
        row.classList.toggle("fresh", fresh);
      }
      for (const node of this.nodes.get(index) ?? []) {
        node.querySelector(".value").textContent = words;
        node.classList.toggle("fresh", fresh);
        const level = node.querySelector(".level");
        node.classList.toggle("on", this.isOn(index));
        if (level) this.showLevel(level, value);
      }
    }

    showLevel(bar, value) {
      const low = Number(bar.dataset.low);
      const high = Number(bar.dataset.high);
      const share = high > low ? (value - low) / (high - low) : 0;
      bar.setAttribute("width", String(Math.round(share * Number(bar.dataset.full) * 10) / 10));
    }

    showCursor(follow) {
      const [from, end, left, width] = at(this.places, this.tick);
      const each = width / (end - from);
      const wide = Math.max(each, 5);
      const x = Math.min(left + (this.tick - from) * each, left + width - wide);
      this.now.setAttribute("x", String(x));
      this.now.setAttribute("width", String(wide));
      if (!follow) return;
      const svg = this.timing.querySelector("svg");
      const shown = svg.getBoundingClientRect();
      const names = this.timing.querySelector(".names").getBoundingClientRect().width;
      const scale = shown.width / svg.viewBox.baseVal.width;
      const room = this.timing.clientWidth - names;
      const cursor = x * scale;
      const past = this.timing.scrollLeft;
      if (cursor < past + 20 || cursor + wide * scale > past + room - 40) {
        this.timing.scrollLeft = Math.max(cursor - room / 2, 0);
      }
    }

    showStory(when) {
      let current = null;
      for (const step of this.story) {
        if (Number(step.dataset.tick) <= this.tick) current = step;
      }
      for (const step of this.story) {
        step === current ? step.setAttribute("aria-current", "step") : step.removeAttribute("aria-current");
      }
      this.told.textContent = `${when}: ${this.words(current)}`;
    }

    words(step) {
      if (step && Number(step.dataset.tick) === this.tick) {
        return [...step.querySelectorAll("p")].map((p) => p.textContent).join(" ");
      }
      const changed = this.run.signals
        .map((signal) => [signal.name, at(signal.spans, this.tick)])
        .filter(([, span]) => span[0] === this.tick && this.tick > 0)
        .map(([name, span]) => `${name}: ${span[2]}`);
      return changed.length ? `${changed.join(", ")}.` : "Nothing changes in this tick.";
    }
  }

  const players = [...document.querySelectorAll(".player")].map((root) => new Player(root));

  // Where nothing has the focus, the arrows step the run that fills most of the window.
  function nearest() {
    const middle = innerHeight / 2;
    const shown = (player) => {
      const box = player.root.getBoundingClientRect();
      return Math.min(box.bottom, innerHeight) - Math.max(box.top, 0);
    };
    const best = players.reduce((one, other) => (one && shown(one) >= shown(other) ? one : other), null);
    return best && shown(best) > Math.min(middle, 200) ? best : null;
  }
  document.addEventListener("keydown", (event) => {
    if (event.target !== document.body || !event.key.startsWith("Arrow")) return;
    nearest()?.key(event);
  });

  // On paper every run stands where it ends.
  const before = new Map();
  addEventListener("beforeprint", () => {
    for (const player of players) {
      before.set(player, player.tick);
      player.show(player.last, false);
    }
  });
  addEventListener("afterprint", () => {
    for (const [player, tick] of before) player.show(tick, false);
    before.clear();
  });
})();
