// Types of the Evenlot module, made from the catalogue by the build.

/**
 * A number as a number or as it was read. The digits of a string count: "18.0"
 * is known to half a tenth, 18 to half of one. Commas and units are understood
 * in strings as they are on the page.
 */
export type Quantity = number | string;

/** Rows as pasted text, or as numbers; a list of numbers is one column. */
export type Series = string | readonly (number | string | readonly (number | string | null)[])[];

/** One output. Numbers are in the base unit, which is `unit`. */
export interface Value {
  id: string;
  label: string;
  symbol?: string;
  unit?: string;
  group?: string;
  /** In the digits that the uncertainty leaves; or words, such as a date. */
  text: string;
  /** Two standard uncertainties, in the same digits; absent when exact. */
  plusMinus?: string;
  /** All digits; null where the output is words. */
  number: number | null;
  /** Standard uncertainty. */
  u: number;
  /** Where the variance comes from, largest first. */
  shares?: { label: string; pct: number }[];
}

/** An output held against its limit. */
export interface Verdict<Name = string> {
  output: Name;
  label: string;
  group?: string;
  word: "in" | "out" | "too close to call";
  /** The chance, in percent, that the true value is in. */
  inPct: number;
  limit: string;
  /** Where our limit comes from; absent for your own. */
  source?: string;
  /** The plus-minus at which it could be called. */
  maxPlusMinus?: string;
  caution?: string;
}

/** Why a field was refused. */
export interface Fault<Field = string> {
  field: Field;
  kind: "empty" | "unreadable" | "ambiguous" | "range" | "date" | "row" | "unknown";
  text: string;
}

export interface Options {
  /** false leaves the figures out, which cost most of an answer. */
  figures?: boolean;
}

export interface Table {
  title?: string;
  head: string[];
  rows: string[][];
}

/** What was read of a series. */
export interface Rows<Field = string> {
  field: Field;
  good: number;
  bad: number;
  faults: string[];
}

/** An answer. */
export interface Sheet<Values, Field> {
  ok: true;
  values: Values;
  verdicts: Verdict<keyof Values>[];
  /** The lot sheet's word over all its checkpoints, and what it is due to. */
  overall?: "release" | "hold" | "measure again" | "not complete";
  reason?: string;
  missing: { group: string; what: string }[];
  working: { text: string; mathml: string }[];
  notes: string[];
  figures: { svg: string; table: Table }[];
  tables: Table[];
  rows: Rows<Field>[];
  /** How the numbers were understood, in the base unit, by field. */
  read: Record<string, string>;
}

/** No answer: fields to look at, or a problem in words. */
export interface Refusal<Field> {
  ok: false;
  faults: Fault<Field>[];
  problem?: string;
  rows?: Rows<Field>[];
}

export type Result<Values, Field = string> = Sheet<Values, Field> | Refusal<Field>;

/** The name of a calculator's function. */
export type Calculator = Exclude<keyof Evenlot, "language" | "say" | "evaluate" | "convert" | "solve" | "dial">;
export type Input<Name extends Calculator> = Parameters<Evenlot[Name]>[0];
export type Output<Name extends Calculator> = Extract<Awaited<ReturnType<Evenlot[Name]>>, { ok: true }> extends Sheet<infer Values, any> ? string & keyof Values : never;

/** What a field must read, in its unit, or why there is no such reading. */
export type Solved = { ok: true; text: string } | { ok: false; why: string };

/** A calculator with one number free. Numbers are in base units; no uncertainty, no verdict. */
export interface Dial {
  ok: true;
  /** The range of the number. */
  lo: number;
  hi: number;
  /** The output there; null where the calculator refuses. Throws where it fails inside. */
  at(x: number): number | null;
  /** The output at evenly spaced values, both ends included; NaN where the calculator refuses. */
  curve(from: number, to: number, points: number): Float64Array;
}
export interface Undialled {
  ok: false;
  why: string;
}

export interface Options {
  /** Where the package's files are; where the module is, if left out. */
  base?: URL | string;
  language?: Language;
}

/** Prepares the calculators. No bundle is read before its first question. */
export function load(options?: Options): Promise<Evenlot>;

export const version: string;
export const languages: readonly Language[];
