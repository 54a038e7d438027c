import { capital } from "../../foundation/first-letter.js";
import { BANDS } from "../../inspection/economics/economics.data.js";
import type { Visit } from "../../inspection/parts/visit.js";
import { visitGroups } from "../visit-text.js";
import { html, type Markup } from "./markup.js";

const bandWords = (): string =>
  Object.entries(BANDS)
    .map(([band, { low, high }]) => `${band} ${low} to ${high} %`)
    .join(", ");

/** What to bring and leave, tools and sizes, refitting, repair or replace, with the sums. */
export function repairSection(visit: Visit): Markup {
  const { bring, leave } = visit.parts;
  const banded = [...bring, ...leave].some(({ by }) => by.rule === "band");
  return html`<dl class="rows">
      ${visitGroups(visit).map(
        ({ label, texts }) =>
          html`<dt>${label}</dt>
            <dd>
              ${
                texts.length === 1
                  ? capital(texts[0]!)
                  : html`<ul class="plain">
                      ${texts.map((text) => html`<li>${capital(text)}</li>`)}
                    </ul>`
              }
            </dd>`,
      )}
    </dl>
    ${
      banded
        ? html`<p class="soft">
            Without your prices a part is carried by its chance and its price band, as a share of a
            like-for-like new machine: ${bandWords()}. With --price and --trip-cost the sum of both
            decides.
          </p>`
        : null
    }`;
}
