// The order list: all coats to come, by product; to print, or to copy into a table.
import { useRef, useState } from "react";
import type { TakeoffBody } from "#contract/takeoff.ts";
import { materialText } from "../../text/material.ts";
import { plain, showArea } from "../../units/show.ts";
import { showVolume } from "../../units/show-material.ts";
import { useVoice } from "../../ui/voice.tsx";
import { orderCsv } from "./order-csv.ts";

export function OrderList({ order }: { readonly order: TakeoffBody["order"] }) {
  const { text, units } = useVoice();
  const words = materialText(text);
  const [copied, setCopied] = useState<"no" | "yes" | "by-hand">("no");
  const area = useRef<HTMLTextAreaElement>(null);
  const csv = orderCsv(order, units, words);
  const copy = async () => {
    try {
      // Only there over HTTPS and on this machine: over plain HTTP it is undefined.
      await (navigator.clipboard as Clipboard | undefined)?.writeText(csv);
      setCopied(navigator.clipboard === undefined ? "by-hand" : "yes");
    } catch {
      setCopied("by-hand");
    }
  };
  if (order.length === 0) return <p className="why-note">{words.orderNone}</p>;
  return (
    <>
      <p className="why-note">{words.orderLead}</p>
      <table className="order">
        <thead>
          <tr>
            <th scope="col">{words.product}</th>
            <th scope="col">{words.coats}</th>
            <th scope="col">{words.area}</th>
            <th scope="col">{words.volume}</th>
            <th scope="col">{words.kits}</th>
          </tr>
        </thead>
        <tbody>
          {order.map((line) => (
            <tr key={line.sheet}>
              <th scope="row">{line.name}</th>
              <td data-name={words.coats}>{line.coats}</td>
              <td data-name={words.area}>{showArea(line.areaM2, units)}</td>
              <td data-name={words.volume}>{line.needL === null ? "–" : showVolume(line.needL, units)}</td>
              <td data-name={words.kits}>
                {line.kits === null || line.kitL === null
                  ? "–"
                  : words.kitsOf(Number(plain(line.kits, 0)), showVolume(line.kitL, units))}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <div className="material-acts">
        <button type="button" className="button" onClick={() => globalThis.print()}>
          {words.print}
        </button>
        <button type="button" className="button" onClick={() => void copy()}>
          {words.copy}
        </button>
        <span role="status">{copied === "yes" ? words.copied : ""}</span>
      </div>
      {copied === "by-hand" && (
        <label className="order-by-hand">
          {words.copyByHand}
          <textarea ref={area} readOnly rows={order.length + 2} value={csv} onFocus={() => area.current?.select()} />
        </label>
      )}
    </>
  );
}
