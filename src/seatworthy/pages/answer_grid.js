// The grid in which ballots are typed: every sheet of a session, one shown at a time.
//
// Given by the page: sheets with their rows, the wordings that name a compound, and what became of
// each line sent. Told to the page: "lines", all that has no answer from the store yet. A line is
// sent again until it is answered; the store takes the same line twice as one fact.

const NOTHING = "nothing";
const SOMETHING = "something, no name";
const MOST_OPTIONS = 6;
const SEND_AGAIN_MS = 4000;

export default function (component) {
  const root = component.parentElement.querySelector(".entry");
  let grid = root.grid;
  if (!grid) {
    grid = root.grid = new Grid(root);
  }
  grid.update(component);
  return () => {
    clearInterval(grid.timer);
    root.grid = undefined;
  };
}

function fold(text) {
  return text
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/ł/g, "l")
    .replace(/ø/g, "o")
    .replace(/[^\p{L}\p{N}]+/gu, " ")
    .trim();
}

function element(name, attributes = {}, ...inside) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (value !== undefined && value !== null && value !== false) made.setAttribute(key, value);
  }
  made.append(...inside);
  return made;
}

function pairs(text) {
  return new Set([...text].slice(1).map((letter, i) => text[i] + letter));
}

class Names {
  // Wordings that name something, for completion.
  constructor(words) {
    this.entries = words.map(([wording, label]) => ({ key: fold(wording), wording, label }));
  }

  options(text) {
    const typed = fold(text);
    const bare = text.trim();
    const found = new Map();
    const take = (label, wording, rank, sent) => {
      const old = found.get(label);
      if (!old || rank < old.rank) found.set(label, { label, wording, rank, sent });
    };
    if (bare === "0" || (typed && NOTHING.startsWith(typed))) take(NOTHING, "", 0, NOTHING);
    if (bare === "?" || (typed.length > 1 && "something".startsWith(typed))) {
      take(SOMETHING, "", 0, "something");
    }
    if (typed) {
      for (const { key, wording, label } of this.entries) {
        if (key === typed) take(label, wording, 0, label);
        else if (fold(label).startsWith(typed)) take(label, wording, 1, label);
        else if (key.startsWith(typed)) take(label, wording, 2, label);
        else if (key.includes(` ${typed}`)) take(label, wording, 3, label);
      }
    }
    return [...found.values()].sort((a, b) => a.rank - b.rank); // alike: in the order given
  }

  nearest(text) {
    // Up to two labels that share most pairs of letters with a wording (Dice's coefficient).
    const typed = pairs(fold(text));
    const best = new Map();
    for (const { key, label } of this.entries) {
      const other = pairs(key);
      const shared = [...typed].filter((pair) => other.has(pair)).length;
      const alike = (2 * shared) / (typed.size + other.size || 1);
      if (alike >= 0.5) best.set(label, Math.max(alike, best.get(label) || 0));
    }
    const found = [...best].sort((a, b) => b[1] - a[1]);
    return found.slice(0, 2).map(([label]) => label);
  }

  clear(text, options) {
    // Whether Enter may take the first option without a choice.
    if (!options.length) return false;
    if (options.length === 1 || ["0", "n", "?"].includes(text.trim().toLowerCase())) return true;
    return options[0].rank === 0 && options[1].rank > 0;
  }
}

class Grid {
  constructor(root) {
    this.root = root;
    this.visit = crypto.getRandomValues(new Uint32Array(2)).join("-");
    this.next = 1;
    this.waiting = new Map(); // lines sent and not answered, by number
    this.drafts = new Map(); // what stands in a row and is not sent, by glass
    this.notes = new Map(); // what the reader was told of a row, by glass
    this.sent = 0;
    this.timer = setInterval(() => this.sendAgain(), SEND_AGAIN_MS);
    root.addEventListener("keydown", (event) => this.onSheetKey(event));
  }

  update({ data, setStateValue }) {
    this.tell = setStateValue;
    this.isOpen = data.is_open;
    if (this.wordCount !== data.words.length) {
      this.names = new Names(data.words);
      this.wordCount = data.words.length;
    }
    const isFirst = !this.sheets;
    this.sheets = data.sheets;
    if (isFirst || (data.current !== this.given && this.sheet(data.current))) {
      this.current = data.current;
    }
    this.given = data.current;
    const answered = data.visit === this.visit ? data.answers : {};
    for (const [number, entered] of Object.entries(answered)) this.take(Number(number), entered);
    this.draw(isFirst);
  }

  // ---- lines to and from the store

  send(row, said, keep) {
    const line = { number: this.next++, sheet: this.current, id: row.id, code: row.code, said, keep };
    this.waiting.set(line.number, line);
    this.drafts.delete(row.id);
    this.notes.delete(row.id);
    this.push();
  }

  push() {
    this.sent = Date.now();
    this.tell("lines", { visit: this.visit, at: this.sent, lines: [...this.waiting.values()] });
  }

  sendAgain() {
    if (this.waiting.size && Date.now() - this.sent >= SEND_AGAIN_MS) {
      for (const line of this.waiting.values()) this.note(line.id, "Not saved yet; trying again.", true);
      this.draw(false);
      this.push();
    }
  }

  take(number, entered) {
    const line = this.waiting.get(number);
    if (!line) return;
    this.waiting.delete(number);
    this.notes.delete(line.id);
    if (entered.outcome === "kept" || entered.outcome === "known") return;
    this.drafts.set(line.id, { said: line.said, asked: entered.outcome === "asks" ? line.said : "" });
    this.note(line.id, entered.sentence, true);
    this.say(entered.sentence);
  }

  note(id, text, needs) {
    this.notes.set(id, { text, needs });
  }

  say(text) {
    const line = this.root.querySelector(".said");
    if (line) line.textContent = text;
  }

  // ---- where we are

  sheet(key) {
    return this.sheets.find((sheet) => sheet.key === key);
  }

  isSending(row) {
    return [...this.waiting.values()].some((line) => line.id === row.id);
  }

  takes(row) {
    return this.isOpen && row.state === "waiting" && !this.isSending(row);
  }

  firstFree(sheet) {
    return sheet.rows.find((row) => this.takes(row));
  }

  go(key, focus = true) {
    if (!this.sheet(key)) return;
    this.current = key;
    this.draw(focus);
    this.tell("sheet", key);
  }

  step(by) {
    const here = this.sheets.findIndex((sheet) => sheet.key === this.current);
    const there = this.sheets[here + by];
    if (there) this.go(there.key);
  }

  onward(row) {
    // The next row that takes an answer: below, else above, else on the next sheet that has one.
    const rows = this.sheet(this.current).rows;
    const place = rows.findIndex((other) => other.id === row.id);
    const free = [...rows.slice(place + 1), ...rows.slice(0, place)].find((r) => this.takes(r));
    if (free) {
      this.draw(false);
      this.focus(free, "answer");
      return;
    }
    const here = this.sheets.findIndex((sheet) => sheet.key === this.current);
    const others = [...this.sheets.slice(here + 1), ...this.sheets.slice(0, here)];
    const sheet = others.find((other) => this.firstFree(other));
    if (sheet) {
      this.go(sheet.key);
    } else {
      this.draw(false);
      this.say("Every answer is in.");
    }
  }

  focus(row, what) {
    const input = this.root.querySelector(`tr[data-id="${row.id}"] input.${what}`);
    if (input) {
      input.focus();
      input.select();
    }
  }

  onSheetKey(event) {
    const forward = event.key === "PageDown" || (event.altKey && event.key === "ArrowRight");
    const back = event.key === "PageUp" || (event.altKey && event.key === "ArrowLeft");
    if (forward || back) {
      event.preventDefault();
      this.step(forward ? 1 : -1);
    }
  }

  // ---- drawing

  draw(focus) {
    const active = this.root.getRootNode().activeElement;
    const kept = active && active.closest && active.closest("tr");
    const held = kept && {
      id: kept.dataset.id,
      what: active.className,
      from: active.selectionStart,
      to: active.selectionEnd,
    };
    const sheet = this.sheet(this.current) || this.sheets[0];
    this.current = sheet.key;
    const said = this.root.querySelector(".said");
    this.root.replaceChildren(
      this.tabs(),
      element("h2", {}, sheet.name, element("span", {}, sheet.sitting)),
      this.table(sheet),
      said || element("p", { class: "said", role: "status", "aria-live": "polite" }),
    );
    const free = this.firstFree(sheet);
    if (focus && free) this.focus(free, "answer");
    else if (held && held.id) this.restore(held);
  }

  restore({ id, what, from, to }) {
    const kind = what.includes("code") ? "code" : "answer";
    const input = this.root.querySelector(`tr[data-id="${id}"] input.${kind}`);
    if (!input) return;
    input.focus();
    if (from !== null) input.setSelectionRange(from, to);
  }

  tabs() {
    const list = element("nav", { "aria-label": "Sheets", class: "sheets" });
    let sitting = null;
    for (const sheet of this.sheets) {
      if (sheet.sitting !== sitting) {
        sitting = sheet.sitting;
        list.append(element("span", { class: "sitting" }, sitting));
      }
      list.append(this.tab(sheet));
    }
    return list;
  }

  tab(sheet) {
    const rows = sheet.rows.filter((row) => row.state === "answered" || row.state === "waiting");
    const done = rows.filter((row) => row.state === "answered" || this.isSending(row)).length;
    const needs = sheet.rows.some((row) => this.notes.get(row.id)?.needs);
    const isHere = sheet.key === this.current;
    const tab = element(
      "button",
      {
        type: "button",
        class: [isHere && "here", done === rows.length && "done", needs && "needs"]
          .filter(Boolean)
          .join(" "),
        "aria-current": isHere ? "page" : null,
      },
      element("span", { class: "name" }, sheet.name),
      element("span", { class: "count" }, `${done} of ${rows.length}${needs ? " !" : ""}`),
    );
    tab.addEventListener("click", () => this.go(sheet.key));
    return tab;
  }

  table(sheet) {
    const heads = ["", "Code", "Answer", "Read as"].map((word) =>
      element("th", { scope: "col" }, word || element("span", { class: "unseen" }, "Glass")),
    );
    const body = element("tbody", {}, ...sheet.rows.map((row) => this.line(sheet, row)));
    return element("table", {}, element("thead", {}, element("tr", {}, ...heads)), body);
  }

  line(sheet, row) {
    const note = this.notes.get(row.id);
    const cells = this.takes(row) ? this.open(sheet, row) : this.fixed(row);
    const told = element("p", { class: "note", id: `note-${row.id}` }, note ? note.text : "");
    cells[cells.length - 1].append(told);
    const line = element("tr", { "data-id": row.id, class: note?.needs ? "needs" : "" });
    line.append(element("th", { scope: "row" }, String(row.position)), ...cells);
    return line;
  }

  fixed(row) {
    const sending = [...this.waiting.values()].find((line) => line.id === row.id);
    const code = element("td", { class: "code" }, element("b", {}, row.code));
    const said = sending ? sending.said : row.said;
    const words = { spilled: "spilled", gone: "not tasted", waiting: "saving" };
    const read = row.state === "answered" ? row.read_as : words[row.state];
    const aside = row.is_aside ? ", set aside" : "";
    return [
      code,
      element("td", { class: "answer" }, said),
      element("td", { class: `read is-${sending ? "sending" : row.state}` }, `${read}${aside}`),
    ];
  }

  open(sheet, row) {
    const draft = this.drafts.get(row.id) || { said: "", code: "" };
    const code = element("input", {
      class: "code",
      inputmode: "numeric",
      autocomplete: "off",
      placeholder: row.code,
      "aria-label": `Code of glass ${row.position}, ${row.code}`,
    });
    code.value = draft.code || "";
    const list = element("ul", { role: "listbox", class: "options", id: `list-${row.id}`, hidden: "" });
    const answer = element("input", {
      class: "answer",
      role: "combobox",
      autocomplete: "off",
      spellcheck: "false",
      maxlength: "120",
      "aria-label": `Answer to glass ${row.code}`,
      "aria-expanded": "false",
      "aria-controls": `list-${row.id}`,
      "aria-describedby": `note-${row.id}`,
    });
    answer.value = draft.said || "";
    const cell = element("td", { class: "answer" }, answer, list);
    const typed = new Line(this, sheet, row, code, answer, list);
    typed.listen();
    return [element("td", { class: "code" }, code), cell, element("td", { class: "read" })];
  }
}

class Line {
  // One row that takes an answer.
  constructor(grid, sheet, row, code, answer, list) {
    Object.assign(this, { grid, sheet, row, code, answer, list, options: [], at: -1 });
  }

  listen() {
    this.code.addEventListener("input", () => this.onCode());
    this.code.addEventListener("keydown", (event) => this.onCodeKey(event));
    this.answer.addEventListener("input", () => this.onAnswer());
    this.answer.addEventListener("keydown", (event) => this.onAnswerKey(event));
    this.answer.addEventListener("focus", () => {
      this.answer.placeholder = "0 nothing, ? no name";
      this.offer();
    });
    this.answer.addEventListener("blur", () => {
      this.answer.placeholder = "";
      this.hide();
    });
    this.code.addEventListener("blur", () => this.isCodeRight());
  }

  keep() {
    const old = this.grid.drafts.get(this.row.id) || {};
    this.grid.drafts.set(this.row.id, { ...old, said: this.answer.value, code: this.code.value });
  }

  tell(text, needs = true) {
    if (text) this.grid.note(this.row.id, text, needs);
    else this.grid.notes.delete(this.row.id);
    const line = this.code.closest("tr");
    line.classList.toggle("needs", Boolean(text) && needs);
    line.querySelector(".note").textContent = text;
    this.code.setAttribute("aria-invalid", String(Boolean(text) && !this.matches()));
  }

  // ---- the code

  matches() {
    const typed = this.code.value.trim();
    return !typed || typed === this.row.code;
  }

  isCodeRight() {
    const typed = this.code.value.trim();
    if (this.matches()) return true;
    if (typed.length < this.row.code.length && this.grid.root.getRootNode().activeElement === this.code) {
      return false;
    }
    this.tell(this.whoseCode(typed));
    return false;
  }

  whoseCode(typed) {
    for (const sheet of this.grid.sheets) {
      const row = sheet.rows.find((other) => other.code === typed);
      if (row && sheet.key === this.sheet.key) return `${typed} is glass ${row.position} of this sheet.`;
      if (row) return `${typed} is on the sheet of ${sheet.name}, glass ${row.position}.`;
    }
    const near = this.sheet.rows
      .map((row) => row.code)
      .filter((code) => [...code].filter((digit, i) => digit !== typed[i]).length === 1 ||
        [...code].sort().join("") === [...typed].sort().join(""));
    const hint = near.length ? ` Near: ${near.join(" or ")}.` : "";
    return `${typed} is on no glass of this sheet.${hint}`;
  }

  onCode() {
    this.keep();
    const typed = this.code.value.trim();
    if (typed.length < this.row.code.length) return this.tell("");
    const other = this.sheet.rows.find((row) => row.code === typed && row.id !== this.row.id);
    if (other && this.grid.takes(other)) {
      this.code.value = "";
      this.keep();
      this.tell("");
      this.grid.focus(other, "answer");
      return undefined;
    }
    if (this.isCodeRight()) {
      this.tell("");
      this.answer.focus();
    }
    return undefined;
  }

  onCodeKey(event) {
    if (event.key === "Enter" || event.key === "ArrowRight") {
      event.preventDefault();
      if (this.isCodeRight()) this.answer.focus();
      else this.tell(this.whoseCode(this.code.value.trim()));
    } else if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      event.preventDefault();
      this.toRow(event.key === "ArrowDown" ? 1 : -1, "code");
    } else if (event.key === "Escape") {
      this.code.value = "";
      this.keep();
      this.tell("");
    }
  }

  // ---- the answer

  onAnswer() {
    this.keep();
    this.tell("");
    this.at = -1;
    this.offer();
  }

  offer() {
    const text = this.answer.value;
    this.options = this.grid.names.options(text);
    this.more = Math.max(0, this.options.length - MOST_OPTIONS);
    this.options = this.options.slice(0, MOST_OPTIONS);
    if (text.trim() && this.at < 0 && this.grid.names.clear(text, this.options)) this.at = 0;
    this.show();
  }

  show() {
    const lines = this.options.map((option, i) => {
      const line = element("li", {
        role: "option",
        id: `option-${this.row.id}-${i}`,
        "aria-selected": String(i === this.at),
      });
      line.append(option.label);
      if (option.wording && fold(option.wording) !== fold(option.label)) {
        line.append(element("small", {}, option.wording));
      }
      line.addEventListener("mousedown", (event) => {
        event.preventDefault();
        this.accept(option.sent, false);
      });
      return line;
    });
    if (this.more) lines.push(element("li", { class: "more", "aria-hidden": "true" }, `${this.more} more`));
    this.list.replaceChildren(...lines);
    this.list.hidden = !lines.length;
    this.answer.setAttribute("aria-expanded", String(Boolean(lines.length)));
    if (this.at >= 0) this.answer.setAttribute("aria-activedescendant", `option-${this.row.id}-${this.at}`);
    else this.answer.removeAttribute("aria-activedescendant");
  }

  hide() {
    this.list.hidden = true;
    this.at = -1;
    this.answer.setAttribute("aria-expanded", "false");
  }

  onAnswerKey(event) {
    const typed = this.answer.value.trim();
    if (event.altKey) return;
    if (event.key === "Enter" || (event.key === "Tab" && !event.shiftKey && typed)) {
      event.preventDefault();
      this.enter(typed);
    } else if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      event.preventDefault();
      const by = event.key === "ArrowDown" ? 1 : -1;
      if (typed && this.options.length) this.choose(by);
      else this.toRow(by, "answer");
    } else if (event.key === "ArrowLeft" && !typed) {
      event.preventDefault();
      this.code.focus();
    } else if (event.key === "Escape") {
      this.answer.value = "";
      this.onAnswer();
    }
  }

  choose(by) {
    const count = this.options.length;
    this.at = (this.at + by + count + (this.at < 0 && by < 0 ? 1 : 0)) % count;
    this.show();
  }

  enter(typed) {
    if (!this.isCodeRight() || !this.matches()) {
      this.tell(this.whoseCode(this.code.value.trim()));
      this.code.focus();
      return;
    }
    if (!typed) {
      this.tell("Type an answer: 0 for nothing, ? for something without a name.");
      return;
    }
    if (this.at >= 0) {
      this.accept(this.options[this.at].sent, false);
      return;
    }
    if (this.options.length) {
      this.tell("Which one? Type more of it, or choose with the arrows.");
      return;
    }
    if (this.isAsked(typed)) this.accept(typed, true);
    else this.ask(typed);
  }

  isAsked(typed) {
    return (this.grid.drafts.get(this.row.id) || {}).asked === typed;
  }

  ask(typed) {
    this.grid.drafts.set(this.row.id, { said: typed, code: this.code.value, asked: typed });
    const near = this.grid.names.nearest(typed);
    const hint = near.length ? ` Near: ${near.join(", ")}.` : "";
    this.tell(`Own words? Enter again keeps them.${hint}`);
  }

  accept(said, keep) {
    this.hide();
    this.grid.send(this.row, said, keep);
    this.grid.onward(this.row);
  }

  toRow(by, what) {
    const rows = this.sheet.rows.filter((row) => this.grid.takes(row));
    const there = rows[rows.findIndex((row) => row.id === this.row.id) + by];
    if (there) this.grid.focus(there, what);
  }
}
