/**
 * What phones need to come in: the page to scan, the groups to compare, the address; and a warning where none reaches
 * it.
 */
import type { Hall } from "../job/preflight_office.ts";
import { SvgPicture } from "./svg_picture.tsx";

export function HallCard({ hall }: { hall: Hall | null }) {
  if (!hall) return null;
  const [page, ...others] = hall.pages;
  return (
    <section class="hall-card">
      <h2>New phones trust the office first</h2>
      {page && hall.qr_svg ? (
        <>
          <p>1. The phone joins this laptop's network, scans this and goes through the page's steps.</p>
          <SvgPicture svg={hall.qr_svg} words={`QR code with the address ${page}`} />
          <p class="address">{page}</p>
          {others.length > 0 && <p class="hint">If it does not load: {others.join(", ")}</p>}
        </>
      ) : (
        <p class="bar wrong">
          This laptop is in no network that a phone could join. Share its connection, or join the hall's
          Wi-Fi, and look again.
        </p>
      )}
      <p>2. Read these six groups aloud; the phone must show the same.</p>
      <ol class="groups">
        {hall.groups.map((group) => (
          <li key={group}>{group}</li>
        ))}
      </ol>
      <p>3. Then pair it with a code from above.</p>
    </section>
  );
}
