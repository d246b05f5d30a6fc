/** A name by which a person is known again, however it was typed. The office's `as_one_name` says the same. */
export function asOneName(name: string): string {
  return name.normalize("NFC").split(/\s+/).filter(Boolean).join(" ").toLowerCase().normalize("NFC");
}
