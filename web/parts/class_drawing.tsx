/** A drawing for each class of things, of a few lines: its body washed, the rest drawn on it. */

/** 48 units wide and high; the first path of each is the body. A class of the house's own is drawn as a parcel. */
const DRAWINGS: Record<string, readonly [body: string, lines: string]> = {
  arms: ["M39 8l-2 9-17 17-4-4 17-17z", "M12 27l9 9M15 33l-7 7"],
  "book-map": [
    "M12 39V11c0-2 1-3 3-3h20v29H15c-2 0-3 1-3 2.5 0 1.5 1 2.5 3 2.500h20v-5",
    "M18 8v29M23 15h8M23 20h8",
  ],
  "camera-scientific": [
    "M22 8l6-3 7 13-6 3zM12 42h24c0-3-2-4-5-4H17c-3 0-5 1-5 4z",
    "M33 20c7 6 4 17-4 18M13 29h13M19 29v9",
  ],
  ceramics: [
    "M15 19h18c5 5 4 15-2 19H17c-6-4-7-14-2-19z",
    "M17 19c1-5 13-5 14 0M24 15v-3M13 29c-4-1-5-6-6-11l4-1c1 3 1 5 3 7M35 22c6-3 8 8-1 11",
  ],
  clock: ["M12 38V22c0-16 24-16 24 0v16z", "M9 38h30v4H9zM24 15a7 7 0 110 14 7 7 0 010-14zM24 18.500v4l3 2"],
  doll: [
    "M21 19h6l7 16H14zM24 7a6 6 0 110 12 6 6 0 010-12z",
    "M20 21l-6 7M28 21l6 7M20 35v6M28 35v6M18 13c1-5 11-5 12 0M22 14v.1M26 14v.1",
  ],
  free: ["M9 17h30v23H9z", "M24 17v23M9 26h30M24 17c-9-10-15-2 0 0 15-2 9-10 0 0"],
  furniture: [
    "M10 13h28v24H10z",
    "M8 9h32v4H8zM10 21h28M10 29h28M13 37v5M35 37v5M18 17h2M28 17h2M18 25h2M28 25h2M18 33h2M28 33h2",
  ],
  glass: ["M16 7h16c1 9-2 16-8 16S15 16 16 7z", "M16 14h16M24 23v17M17 41h14"],
  jewellery: [
    "M17 7h14l4 6-11 9-11-9z",
    "M13 13h22M20 7l4 15 4-15M19 19a11 11 0 1010 0M20 23a7.5 7.5 0 108 0",
  ],
  "medal-coin": [
    "M24 20a10.5 10.5 0 110 21 10.5 10.5 0 010-21z",
    "M15 6h18l-4 15M15 6l4 15M24 24l1.8 4.2 4.7.4-3.6 3 1.1 4.5-4-2.4-4 2.4 1.1-4.5-3.6-3 4.7-.4z",
  ],
  painting: [
    "M9 13h30v28H9z",
    "M15 19h18v16H15zM17 13l7-6 7 6M18 30h12c0 3-2 4-6 4s-6-1-6-4M20 30c0-6 8-6 8 0",
  ],
  "silver-plate": [
    "M16 16h16l2 24H14z",
    "M17 16c1-6 13-6 14 0M24 11V8M31 12l4-4M15 25h18M14 36h20M33 21c8-1 8 12 1 12",
  ],
  "soft-toy": [
    "M24 7a9.5 8.5 0 110 17 9.5 8.5 0 010-17zM17 23c-6 5-6 18 7 18s13-13 7-18",
    "M16 12a3.6 3.6 0 113-5.500M32 12a3.6 3.6 0 10-3-5.500M21 14v.1M27 14v.1M22 18.500h4l-2 1.500zM18 29c3 2 3 6 1 9M30 29c-3 2-3 6-1 9",
  ],
  "stringed-instrument": [
    "M24 20c-6-2-9 1-7 6 1 2-5 4-5 9 0 6 6 8 12 8s12-2 12-8c0-5-6-7-5-9 2-5-1-8-7-6z",
    "M22.5 30V6h3v24zM19 8h10M19 11h10M20 35h8",
  ],
  "textile-rug": [
    "M11 12h26v25H11z",
    "M16 17h16v15H16zM24 19.500l5 5-5 5-5-5zM13 12V8M18.5 12V8M24 12V8M29.5 12V8M35 12V8M13 41v-4M18.5 41v-4M24 41v-4M29.5 41v-4M35 41v-4",
  ],
  "tinplate-diecast": [
    "M6 33v-8l7-2 5-8h13l5 8 7 2v8z",
    "M13 23h23M25 15v8M11 33a4.5 4.5 0 119 0 4.5 4.5 0 01-9 0zM29 33a4.5 4.5 0 119 0 4.5 4.5 0 01-9 0z",
  ],
  watch: [
    "M24 16a13 13 0 110 26 13 13 0 010-26z",
    "M24 16v-4M21 6h6v6h-6zM24 20a9 9 0 110 18 9 9 0 010-18zM24 23v6l4 3",
  ],
  "work-on-paper": [
    "M11 7h26v35H11z",
    "M17 13h14v17H17zM24 16c4 4 3 8 0 10-3-2-4-6 0-10zM24 20v8M19 36h3M25 36h4",
  ],
};

/** Of its back the body alone is drawn, turned round. */
export function ClassDrawing({ class_id, isBack = false }: { class_id: string; isBack?: boolean }) {
  const [body, lines] = DRAWINGS[class_id] ?? (DRAWINGS.free as readonly [string, string]);
  return (
    <svg class="class-drawing" viewBox="0 0 48 48" aria-hidden="true">
      <path class="body" d={body} transform={isBack ? "matrix(-1 0 0 1 48 0)" : undefined} />
      {!isBack && <path d={lines} />}
    </svg>
  );
}

/** What a class is called where there is room for two words; a house's own by its whole name. */
export const SHORT_NAMES: Record<string, string> = {
  arms: "Arms, ammunition",
  "book-map": "Books, maps",
  "camera-scientific": "Instruments",
  ceramics: "Ceramics",
  clock: "Clocks",
  doll: "Dolls",
  free: "None of these",
  furniture: "Furniture",
  glass: "Glass",
  jewellery: "Jewellery",
  "medal-coin": "Medals, coins",
  painting: "Paintings",
  "silver-plate": "Silver, plate",
  "soft-toy": "Soft toys",
  "stringed-instrument": "Strings",
  "textile-rug": "Textiles, rugs",
  "tinplate-diecast": "Metal toys",
  watch: "Watches",
  "work-on-paper": "On paper",
};
