/** A small cache that keeps the most recently used values; keys carry the data version, so nothing in it grows stale. */
export class RecentCache<Value> {
  private readonly entries = new Map<string, Value>();

  constructor(private readonly capacity: number) {}

  get(key: string): Value | undefined {
    const value = this.entries.get(key);
    if (value !== undefined) {
      this.entries.delete(key);
      this.entries.set(key, value);
    }
    return value;
  }

  set(key: string, value: Value): void {
    this.entries.delete(key);
    this.entries.set(key, value);
    for (const oldest of this.entries.keys()) {
      if (this.entries.size <= this.capacity) break;
      this.entries.delete(oldest);
    }
  }
}
