// The order list as comma-separated values, in the units of whoever copies it. Pure.
import type { TakeoffBody } from "#contract/takeoff.ts";
import { ft2FromM2, usGalFromL } from "#core/units.ts";
import type { MaterialText } from "../../text/material.ts";
import type { UnitSystem } from "../../units/show.ts";

/** A field by RFC 4180; what a table would take for a formula is made plain text. */
function cell(value: string): string {
  const plain = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(plain) ? `"${plain.replaceAll('"', '""')}"` : plain;
}

const number = (value: number | null, digits: number) => (value === null ? "" : String(Number(value.toFixed(digits))));

export function orderCsv(order: TakeoffBody["order"], units: UnitSystem, words: MaterialText): string {
  const us = units === "us";
  const volume = (litres: number | null) => number(litres === null ? null : us ? usGalFromL(litres) : litres, 2);
  const head = [
    words.product,
    words.sheetId,
    words.coats,
    `${words.area} ${us ? "ft2" : "m2"}`,
    `${words.volume} ${us ? "US gal" : "L"}`,
    `${words.kitSize} ${us ? "US gal" : "L"}`,
    words.kits,
  ];
  const lines = order.map(({ name, sheet, coats, areaM2, needL, kitL, kits }) => [
    name,
    sheet,
    String(coats),
    number(us ? ft2FromM2(areaM2) : areaM2, 1),
    volume(needL),
    volume(kitL),
    number(kits, 0),
  ]);
  return [head, ...lines].map((line) => `${line.map(cell).join(",")}\r\n`).join("");
}
