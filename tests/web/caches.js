/** The Cache API as far as it is used here. Source: W3C Service Workers, CacheStorage. */
export class Caches {
  kept = new Map();
  async open(name) {
    if (!this.kept.has(name)) this.kept.set(name, new Map());
    const cache = this.kept.get(name);
    return {
      put: async (address, response) => void cache.set(address, await response.blob()),
      keys: async () => [...cache.keys()].map((address) => ({ url: `https://intake.local${address}` })),
      match: async ({ url }) => new Response(cache.get(url.slice("https://intake.local".length))),
    };
  }
  async match(address) {
    const found = [...this.kept.values()].find((cache) => cache.has(address));
    return found && new Response(found.get(address));
  }
  async keys() {
    return [...this.kept.keys()];
  }
  async delete(name) {
    return this.kept.delete(name);
  }
}
