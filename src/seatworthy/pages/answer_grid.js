// The sheets of a session, one at a time, for entering answers with the keyboard alone.

const BOOKS = new Map(); // by session, so that what was typed outlives the table that showed it
const GRIDS = new WeakMap(); // by the element that the frame gives

class Grid {
  constructor(root, book) {
    Object.assign(this, { root, book, rows: [] });
    this.notices = new Notices(book, (key) => this.goTo(key));
    this.list = new SheetList(book, (key) => this.goTo(key));
    this.title = made("h2", { tabindex: "-1", id: "whose" });
    this.live = made("p", { class: "unseen", "aria-live": "polite" });
    this.body = made("tbody");
    const heads = ["Glass", "Code", "Answer", "Read as"].map((words) => made("th", { scope: "col" }, words));
    this.finished = made("p", { class: "finished", tabindex: "-1", hidden: "" });
    this.keys = made("p", { class: "keys" }, "Enter saves and goes down. Escape clears. Shift and Tab goes to the code. Alt and an arrow, or Page Up and Page Down, change the sheet.");
    this.element = made("div", { class: "grid" },
      made("div", { class: "answers" }, this.title, this.notices.element,
        made("table", { "aria-labelledby": "whose" }, made("thead", {}, made("tr", {}, ...heads)), this.body),
        this.finished, this.keys, this.live),
      this.list.element);
    root.append(this.element);
    this.element.addEventListener("keydown", (event) => this.keyAnywhere(event));
    // The frame takes single letters for commands where it cannot see that they are typed into a field.
    for (const kind of ["keydown", "keypress", "keyup"]) this.element.addEventListener(kind, (event) => event.stopPropagation());
    this.warn = (event) => { if (book.outbox.length) event.preventDefault(); };
    window.addEventListener("beforeunload", this.warn);
    this.element.addEventListener("focusin", (event) => { this.lastField = event.target; });
    book.outbox.onLate = () => { this.wasLate = true; this.refresh(); };
  }

  close() {
    window.removeEventListener("beforeunload", this.warn);
    this.element.remove();
    GRIDS.delete(this.root);
  }

  /** Take what the page below says: sheets, and what became of lines. */
  learn(data) {
    const { book } = this;
    Object.assign(book, { tabs: data.tabs, isOpen: data.isOpen, words: new Wordings(data.words, data.isRelease) });
    for (const sheet of data.sheets) {
      for (const glass of sheet.rows) glass.codes ??= []; // only a set has several
      book.sheets.set(sheet.key, sheet);
    }
    const hasOthers = this.follow();
    for (const [line, entered] of book.outbox.arrived(data.done)) this.settle(line, entered);
    if (this.wasLate && !book.outbox.isLate) this.resume();
    if (!book.outbox.opening && data.key !== book.shown) this.show(data.key);
    else if (hasOthers) this.show(book.shown);
    this.refresh();
    book.outbox.go();
  }

  /** Give each line its glass as it now stands on record; whether the sheet has other glasses than before. */
  follow() {
    const glasses = this.book.sheets.get(this.book.shown)?.rows ?? [];
    if (glasses.map((glass) => glass.id).join() !== this.rows.map((row) => row.glass.id).join()) return true;
    this.rows.forEach((row, place) => { row.glass = glasses[place]; });
    return false;
  }

  /** Go back to typing after the frame's own dialog about the lost server took the focus. */
  resume() {
    this.wasLate = false;
    if (document.activeElement === document.body && this.lastField?.isConnected) this.lastField.focus();
  }

  /** Show a sheet; unless the reader is busy elsewhere on the page, its first open answer gets the focus. */
  show(key, isAsked = false) {
    const { book } = this;
    const sheet = book.sheets.get(key);
    book.shown = key;
    this.rows = sheet.rows.map((glass) => new Row(glass, book.draft(glass, key), this));
    this.title.textContent = sheet.name;
    this.body.replaceChildren(...this.rows.map((row) => row.element));
    this.body.parentElement.className = this.rows.some((row) => row.isSet) ? "has-sets" : "";
    this.finished.hidden = true;
    this.refresh();
    const held = document.activeElement;
    const isFree = held === document.body && !matchMedia("(pointer: coarse)").matches;
    const first = this.rows.find((row) => row.isOpen)?.answerField;
    if (isAsked) (first ?? this.title).focus();
    else if (isFree || held === this.root.host) first?.focus();
  }

  /** Go to a sheet because somebody asked for it; the page below follows. */
  goTo(key) {
    if (!key || key === this.book.shown) return;
    this.show(key, true);
    this.book.outbox.open(key);
  }

  settle(line, entered) {
    const draft = this.book.drafts.get(line.id);
    const row = this.rows.find((one) => one.glass.id === line.id);
    this.say(entered.sentence);
    if (["kept", "known"].includes(entered.outcome)) {
      Object.assign(draft, { phase: "saved", note: "", label: entered.said });
      this.moveOn(row, line);
      return;
    }
    const isOwnWords = entered.outcome === "asks";
    Object.assign(draft, { phase: isOwnWords ? "asks" : "refused", note: entered.sentence, label: "" });
  }

  /** Leave a glass that was looked up and kept; what was typed meanwhile belongs to the next one. */
  moveOn(row, line) {
    if (!row?.hasFocus) return;
    const typed = row.answerField.value;
    const ahead = typed.startsWith(line.said) ? typed.slice(line.said.length) : "";
    row.draft.text = "";
    this.goNext(row);
    const next = this.rows.find((one) => one.hasFocus);
    if (!next || !ahead) return;
    next.answerField.value = ahead;
    this.answerTyped(next);
  }

  codeTyped(row) {
    const typed = row.codeField.value.trim();
    Object.assign(row.draft, { code: typed, note: "" });
    if (typed && typed.length >= row.glass.code.length) this.checkCode(row, typed, row.codeField);
    row.refresh();
  }

  /** Go to the glass that a code names, or say at once that there is none here. */
  checkCode(row, typed, from) {
    if (typed === row.glass.code) {
      if (from === row.answerField) this.clear(row);
      this.arriveAt(row);
      return;
    }
    const other = this.rows.find((one) => hasCode(one.glass, typed));
    if (!other?.isOpen) {
      row.draft.note = other ? this.book.whyClosed(other) : this.book.unknownCode(typed);
      this.say(row.draft.note);
      return;
    }
    from.value = "";
    Object.assign(row.draft, from === row.codeField ? { code: "" } : { text: "" });
    this.arriveAt(other);
  }

  /** Go to a glass whose code was typed, and show that it was. */
  arriveAt(row) {
    if (!row.isSet) row.draft.code = row.codeField.value = row.glass.code;
    row.draft.note = "";
    row.answerField.focus();
    this.refresh();
  }

  /** What is wrong with the code typed for a line; "" if nothing is. */
  codeFault({ draft, glass }) {
    return draft.code && draft.code !== glass.code ? this.book.unknownCode(draft.code) : "";
  }

  answerTyped(row) {
    const typed = row.answerField.value;
    Object.assign(row.draft, { text: typed, note: this.codeFault(row) });
    if (row.draft.phase !== "checking") row.draft.phase = "typing";
    const digits = typed.trim();
    if (!row.isSet && /^\d+$/.test(digits) && digits.length >= row.glass.code.length) {
      row.offer([]);
      this.checkCode(row, digits, row.answerField);
    } else {
      const { options, taken } = row.find(typed);
      if (row.isSet && digits && !options.length) row.draft.note = this.book.notInSet(digits, row.glass);
      row.offer(options, taken ? options.indexOf(taken) : -1);
    }
    row.refresh();
  }

  /** Enter a line; whether the typist may go on to the next one. */
  enter(row) {
    const { draft } = row;
    const typed = row.answerField.value.trim();
    if (!typed) return true;
    if (this.codeFault(row)) return this.refuse(row, this.codeFault(row));
    if (!row.isSet && /^\d+$/.test(typed) && typed.length >= row.glass.code.length) return this.refuse(row, draft.note || this.book.unknownCode(typed));
    const { count, taken } = row.find(typed);
    const meant = row.options[row.chosen] ?? taken;
    if (meant) return this.commit(row, meant.said, meant.label, false);
    if (row.isSet) return this.refuse(row, count ? `“${typed}” begins ${count} codes. Type on.` : this.book.notInSet(typed, row.glass));
    if (count) return this.refuse(row, `“${typed}” begins ${count} names. Choose one with the arrows, or type on.`);
    if (draft.asked === typed && ["asks", "checking"].includes(draft.phase)) return this.commit(row, typed, typed, true);
    Object.assign(draft, { phase: "checking", asked: typed, note: "" });
    this.book.outbox.add(this.line(row, typed, false));
    row.refresh();
    return false;
  }

  refuse(row, sentence) {
    row.draft.note = sentence;
    this.say(sentence);
    row.refresh();
    return false;
  }

  commit(row, said, label, keep) {
    Object.assign(row.draft, { phase: "sending", text: said, label, note: "" });
    row.offer([]);
    this.book.outbox.add(this.line(row, said, keep));
    return true;
  }

  line(row, said, keep) {
    return { id: row.glass.id, sheet: this.book.shown, code: row.draft.code || row.glass.code, said, keep };
  }

  /** Take an option that was pressed. */
  take(row, option) {
    if (option && this.commit(row, option.said, option.label, false)) this.goNext(row);
  }

  clear(row) {
    row.answerField.value = "";
    Object.assign(row.draft, { text: "", note: "", phase: "typing" });
    row.offer([]);
    row.refresh();
  }

  /** Focus the next open answer, here or on the next sheet that has one. */
  goNext(row) {
    const after = this.rows.slice(this.rows.indexOf(row) + 1).find((one) => one.isOpen);
    const sheet = after ? null : this.book.nextLeft(this.book.shown);
    if (after) after.answerField.focus();
    else if (sheet) this.goTo(sheet);
    else this.finish();
    this.refresh();
  }

  finish() {
    const open = this.rows.find((one) => one.isOpen);
    if (open) return open.answerField.focus();
    this.finished.hidden = false;
    this.refresh();
    return this.finished.focus();
  }

  step(row, by) {
    const open = this.rows.filter((one) => one.isOpen || one === row);
    open[open.indexOf(row) + by]?.answerField.focus();
  }

  keyInCode(event, row) {
    const { key, shiftKey } = event;
    const isAtEnd = row.codeField.selectionStart === row.codeField.value.length;
    if (key === "Escape") {
      row.codeField.value = "";
      this.codeTyped(row);
    } else if (key === "ArrowUp" || key === "ArrowDown") {
      const open = this.rows.filter((one) => one.isOpen && !one.isSet);
      open[open.indexOf(row) + (key === "ArrowUp" ? -1 : 1)]?.codeField.focus();
    } else if (key === "Enter" || (key === "Tab" && !shiftKey) || (key === "ArrowRight" && isAtEnd && !event.altKey)) {
      const typed = row.codeField.value.trim();
      if (!typed) row.answerField.focus();
      else this.checkCode(row, typed, row.codeField);
      row.refresh();
    } else return;
    event.preventDefault();
  }

  keyInAnswer(event, row) {
    const { key, shiftKey, altKey } = event;
    if (altKey || event.isComposing) return;
    const isList = row.options.length > 0;
    if (key === "Escape") this.clear(row);
    else if (key === "ArrowDown" || key === "ArrowUp") this.arrow(row, key === "ArrowDown" ? 1 : -1, isList);
    else if (key === "ArrowLeft" && row.answerField.selectionEnd === 0 && !row.isSet) row.codeField.focus();
    else if (key === "Enter") {
      if (this.enter(row)) this.goNext(row);
    } else if (key === "Tab" && !shiftKey) {
      if (this.enter(row)) this.tabOn(row);
    } else return;
    event.preventDefault();
  }

  /** Tab goes to the next open answer; below the last one to the list of sheets. */
  tabOn(row) {
    const after = this.rows.slice(this.rows.indexOf(row) + 1).find((one) => one.isOpen);
    after?.answerField.focus();
    if (!after) this.list.focusShown();
    this.refresh();
  }

  arrow(row, by, isList) {
    if (!isList) return this.step(row, by);
    const { length } = row.options;
    const chosen = row.chosen < 0 ? (by > 0 ? 0 : length - 1) : (row.chosen + by + length) % length;
    return row.offer(row.options, chosen);
  }

  keyAnywhere(event) {
    const isAlt = event.altKey && !event.ctrlKey && !event.metaKey;
    const isForth = (isAlt && event.key === "ArrowRight") || event.key === "PageDown";
    const isBack = (isAlt && event.key === "ArrowLeft") || event.key === "PageUp";
    if (!isForth && !isBack) return;
    event.preventDefault();
    const keys = this.book.tabs.map((tab) => tab.key);
    this.goTo(keys[keys.indexOf(this.book.shown) + (isForth ? 1 : -1)]);
  }

  say(sentence) {
    this.live.textContent = sentence;
  }

  refresh() {
    for (const row of this.rows) row.refresh();
    const { length } = this.book.outbox;
    this.finished.textContent = `Every answer is typed; ${length ? `${length} still to be saved.` : "all are saved."}`;
    this.list.refresh();
    this.notices.refresh();
  }
}

/** Draw or bring up to date; the frame calls this whenever the page below says something new. */
export default function ({ data, parentElement, setTriggerValue }) {
  let grid = GRIDS.get(parentElement);
  if (grid?.book.session !== data.session) {
    grid?.close();
    if (!BOOKS.has(data.session)) BOOKS.set(data.session, new Book(data.session));
    grid = new Grid(parentElement, BOOKS.get(data.session));
    GRIDS.set(parentElement, grid);
  }
  grid.book.outbox.send = (parcel) => setTriggerValue("sent", parcel);
  grid.learn(data);
  return () => grid.close();
}
