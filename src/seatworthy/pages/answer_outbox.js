// Answers on their way to the record: one parcel travels at a time and is sent again until it was answered.
// The record takes the same answer twice as one, so a parcel that arrives twice does no harm.

const MOST_IN_PARCEL = 8;
const PATIENCE = 4000; // milliseconds until a parcel counts as late

/** Whether the page has its server, as the frame says; true where it says nothing. */
function isConnected() {
  const app = document.querySelector('[data-testid="stApp"]');
  return (app?.dataset.testConnectionState ?? "CONNECTED") === "CONNECTED";
}

class Outbox {
  constructor() {
    this.waiting = new Map(); // lines by serving id; a newer line takes the place of an older one
    this.parcel = null;
    this.opening = null; // key of the sheet that the page below is asked to follow to
    this.number = Date.now();
    this.send = () => {};
    this.onLate = () => {};
  }

  /** Lines that wait or travel. */
  get length() {
    return this.waiting.size + (this.parcel?.lines.length ?? 0);
  }

  get isLate() {
    return Boolean(this.parcel) && (!isConnected() || Date.now() - this.parcel.sentAt > PATIENCE);
  }

  add(line) {
    this.waiting.set(line.id, line);
    this.go();
  }

  open(key) {
    this.opening = key;
    this.go();
  }

  go() {
    if (this.parcel || (!this.waiting.size && !this.opening)) return;
    const lines = [...this.waiting.values()].slice(0, MOST_IN_PARCEL);
    for (const line of lines) this.waiting.delete(line.id);
    this.number += 1;
    this.parcel = { number: this.number, lines, open: this.opening, tries: 0 };
    this.timer ??= setInterval(() => this.look(), 500);
    this.post();
  }

  post() {
    const { number, lines, open } = this.parcel;
    this.parcel.tries += 1;
    this.parcel.triedAt = Date.now();
    this.parcel.sentAt ??= this.parcel.triedAt;
    this.send({ number, lines, open });
  }

  /** Send a late parcel again, ever more patiently; called twice a second while one travels. */
  look() {
    if (!this.parcel) return;
    if (this.isLate) this.onLate();
    const { triedAt, tries, wasCut } = this.parcel;
    this.parcel.wasCut = !isConnected();
    if (this.parcel.wasCut) this.parcel.tries = 0;
    else if (wasCut || Date.now() - triedAt > PATIENCE * tries) this.post();
  }

  /**
   * Take what the record says of a parcel.
   *
   * @returns {[object, object][]} Line and outcome, without lines that a newer one replaces.
   */
  arrived(done) {
    if (!this.parcel || done?.number !== this.parcel.number) return [];
    const { lines, open } = this.parcel;
    if (open === this.opening) this.opening = null;
    this.parcel = null;
    const outcomes = new Map(done.entered.map((entered) => [entered.id, entered]));
    const told = lines.filter((line) => outcomes.has(line.id) && !this.waiting.has(line.id));
    this.go();
    if (!this.parcel) {
      clearInterval(this.timer);
      this.timer = null;
    }
    return told.map((line) => [line, outcomes.get(line.id)]);
  }
}
