/** A web storage as far as it is used here: named items, and their names as its own keys. */
export class Items {
  getItem(name) {
    return Object.hasOwn(this, name) ? this[name] : null;
  }
  setItem(name, value) {
    this[name] = String(value);
  }
  removeItem(name) {
    delete this[name];
  }
}
