import type { Result, Value } from "./evenlot.js";

/** `<evenlot-calculator calculator="room-moisture">` */
export class EvenlotCalculator extends HTMLElement {
  /** What the last `sheet` event said. */
  readonly result: Result<Record<string, Value>> | undefined;
}

declare global {
  interface HTMLElementTagNameMap {
    "evenlot-calculator": EvenlotCalculator;
  }
  interface HTMLElementEventMap {
    sheet: CustomEvent<Result<Record<string, Value>>>;
  }
}
