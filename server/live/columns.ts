// Numbers in little memory, without losing a bit: all columns of a node lie in one piece, each as narrow as its numbers allow.
import type { Column } from "#core/zone/site.ts";

/** How the numbers of a column stand: in `units` of 16 bits, as whole steps of 1/`per` from a base; `per` 0 = each as it is. */
interface Form {
  readonly units: 1 | 2 | 4;
  readonly per: number;
}

const AS_IT_IS: Form = { units: 4, per: 0 };
/** Narrowest first. Sensors say hundredths, or sixteenths of a degree; what was made of either, a few digits more. */
const VALUES: readonly Form[] = [{ units: 1, per: 100 }, { units: 1, per: 16 }, { units: 2, per: 1e6 }, AS_IT_IS];
/** 25 days to both sides of the base. */
const TIMES: readonly Form[] = [{ units: 2, per: 1 }, AS_IT_IS];

const NONE = new Uint16Array(0);
/** What a slice is begun as, so that it is an array of plain numbers that need not grow. */
const NUMBERS: number[] = [];
/** One number, and the same as units. */
const DOUBLE = new Float64Array(1);
const DOUBLE_UNITS = new Uint16Array(DOUBLE.buffer);

/** Whole steps of a number; NaN where they would not give it back to the last bit. */
function stepsOf({ units, per }: Form, base: number, value: number): number {
  const steps = Math.round(value * per) - base;
  const held = units === 1 ? (steps << 16) >> 16 : steps | 0;
  return held === steps && Object.is((held + base) / per, value) ? held : Number.NaN;
}

function asItIs(units: Uint16Array, at: number): number {
  for (let unit = 0; unit < 4; unit++) DOUBLE_UNITS[unit] = units[at + unit] as number;
  return DOUBLE[0] as number;
}

function fits(form: Form, base: number, numbers: Column): boolean {
  for (let place = 0; place < numbers.length && form.per > 0; place++)
    if (Number.isNaN(stepsOf(form, base, numbers.at(place) as number))) return false;
  return true;
}

/**
 * Room beyond what is there: each time it runs out, everything of the node moves. By fours, so that columns begin where numbers
 * of 64 bits may.
 */
const roomFor = (count: number): number => (count + (count >> 3) + 11) & ~3;

/** The memory of all columns of one node: a piece for each column would take more than an hour of readings. */
export class Shelf {
  private columns: LiveColumn[] = [];

  /** An empty column of values, °C, percent, V or dBm. */
  values(): LiveColumn {
    return new LiveColumn(this, VALUES);
  }

  /** An empty column of times, epoch ms. */
  times(): LiveColumn {
    return new LiveColumn(this, TIMES);
  }

  /** Lays everything anew, with room for `count` numbers in one column, which is let in if it is not here yet. */
  lay(column: LiveColumn, count: number): void {
    if (!this.columns.includes(column)) this.columns.push(column);
    let end = 0;
    const rooms = this.columns.map((one) => roomFor(one === column ? count : one.length));
    for (const [index, one] of this.columns.entries()) end += (rooms[index] as number) * one.form.units;
    const units = new Uint16Array(end);
    let start = 0;
    for (const [index, one] of this.columns.entries()) {
      one.moveTo(this, units, start, rooms[index] as number);
      start += (rooms[index] as number) * one.form.units;
    }
  }

  /** Lets go of all columns but these: such a one still holds what it held. Those that lay elsewhere come here. */
  keepOnly(columns: ReadonlySet<LiveColumn>): void {
    this.columns = this.columns.filter((one) => columns.has(one));
    // One that is empty comes with its first number.
    for (const column of columns)
      if (column.length > 0 && !this.columns.includes(column)) this.lay(column, column.length);
  }
}

export class LiveColumn implements Column {
  length = 0;
  most = Number.NEGATIVE_INFINITY;
  form: Form;
  /** Steps that are taken off all. */
  private base = 0;
  /** The memory of its shelf when it was laid last, and where in it this column begins. */
  private units: Uint16Array = NONE;
  private start = 0;
  private room = 0;

  constructor(
    private shelf: Shelf,
    private readonly forms: readonly Form[],
  ) {
    this.form = forms[0] as Form;
  }

  at(index: number): number | undefined {
    const place = index < 0 ? index + this.length : index;
    return place >= 0 && place < this.length ? this.read(place) : undefined;
  }

  slice(from = 0, to = this.length): number[] {
    const first = Math.max(0, from < 0 ? from + this.length : from);
    const end = Math.min(to < 0 ? to + this.length : to, this.length);
    const { units, start, base } = this;
    const { units: width, per } = this.form;
    const count = end - first;
    if (count <= 0) return [];
    // A judging takes two days of each column: the form is not asked for each number, and an array that grows is slow.
    while (NUMBERS.length < count) NUMBERS.push(0.5);
    const numbers = NUMBERS.slice(0, count);
    if (width === 1)
      for (let place = 0, at = start + first; place < numbers.length; place++, at++)
        numbers[place] = (((units[at] as number) << 16) >> 16) / per;
    else if (width === 2)
      for (let place = 0, at = start + 2 * first; place < numbers.length; place++, at += 2)
        numbers[place] = (((units[at] as number) | ((units[at + 1] as number) << 16)) + base) / per;
    else {
      const doubles = new Float64Array(units.buffer, 2 * (start + 4 * first), count);
      for (let place = 0; place < numbers.length; place++) numbers[place] = doubles[place] as number;
    }
    return numbers;
  }

  push(value: number): void {
    this.insert(this.length, value);
  }

  insert(place: number, value: number): void {
    const { units: width, per } = this.form;
    if (value > this.most) this.most = value;
    const steps = per === 0 ? value : stepsOf(this.form, this.base, value);
    if (per !== 0 && Number.isNaN(steps)) {
      this.fill(this.slice().toSpliced(place, 0, value));
      return;
    }
    if (this.length === this.room) this.shelf.lay(this, this.length + 1);
    const at = this.start + place * width;
    if (place < this.length) this.units.copyWithin(at + width, at, this.start + this.length * width);
    this.write(place, steps);
    this.length += 1;
  }

  /** Takes these numbers instead of its own. */
  fill(numbers: readonly number[]): void {
    this.base = this.baseFor(numbers);
    this.form = this.forms.find((form) => fits(form, this.base, numbers)) ?? AS_IT_IS;
    this.length = 0;
    this.shelf.lay(this, numbers.length);
    this.most = Number.NEGATIVE_INFINITY;
    for (const [place, value] of numbers.entries()) {
      if (value > this.most) this.most = value;
      this.write(place, this.form.per === 0 ? value : stepsOf(this.form, this.base, value));
    }
    this.length = numbers.length;
  }

  /** Of those before `end` only the ones at `kept` stay, in rising order. */
  cut(end: number, kept: readonly number[]): void {
    const { units } = this;
    const { units: width } = this.form;
    let to = this.start;
    const move = (from: number, until: number) => {
      units.copyWithin(to, this.start + from * width, this.start + until * width);
      to += (until - from) * width;
    };
    for (const place of kept) move(place, place + 1);
    move(end, this.length);
    this.length -= end - kept.length;
    // What was wide for a number that is gone need not stay so.
    const base = this.baseFor(this);
    if (this.forms.some((form) => form.units < width && fits(form, base, this))) this.fill(this.slice());
    else if (this.length < this.room / 2) this.shelf.lay(this, this.length);
  }

  /** Where the shelf puts it. */
  moveTo(shelf: Shelf, units: Uint16Array, start: number, room: number): void {
    units.set(this.units.subarray(this.start, this.start + this.length * this.form.units), start);
    this.shelf = shelf;
    this.units = units;
    this.start = start;
    this.room = room;
  }

  /** Values are counted from nothing, times from the last of them. */
  private baseFor(numbers: Column): number {
    const last = numbers.at(-1) ?? 0;
    return this.forms === TIMES && Number.isSafeInteger(last) ? last : 0;
  }

  private read(place: number): number {
    const { units } = this;
    const { units: width, per } = this.form;
    const at = this.start + place * width;
    if (width === 1) return (((units[at] as number) << 16) >> 16) / per;
    if (width === 2) return ((((units[at + 1] as number) << 16) | (units[at] as number)) + this.base) / per;
    return asItIs(units, at);
  }

  /** `steps`: of the present form, or the number itself. */
  private write(place: number, steps: number): void {
    const { units } = this;
    const { units: width } = this.form;
    const at = this.start + place * width;
    units[at] = steps;
    if (width === 2) units[at + 1] = steps >> 16;
    if (width !== 4) return;
    DOUBLE[0] = steps;
    for (let unit = 0; unit < 4; unit++) units[at + unit] = DOUBLE_UNITS[unit] as number;
  }
}
