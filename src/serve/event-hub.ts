// serve: something happened → everybody who listens is told.
import type { ServerEvent } from "../api/event-schema.js";

/** Tells events to all that listen. */
export class EventHub {
  readonly #listeners = new Set<(event: ServerEvent) => void>();

  /** @returns a function that ends it. */
  listen(listener: (event: ServerEvent) => void): () => void {
    this.#listeners.add(listener);
    return () => {
      this.#listeners.delete(listener);
    };
  }

  tell(event: ServerEvent): void {
    for (const listener of this.#listeners) listener(event);
  }

  get isHeard(): boolean {
    return this.#listeners.size > 0;
  }
}
