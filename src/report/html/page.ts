import { asMarkup, html, type Markup } from "./markup.js";
import { keepFigures } from "../lines.js";
import { PAGE_STYLE, PAGE_STYLE_SHA256 } from "./style.js";

/** One part of a page, reached from the list of contents. */
export interface PageSection {
  /** Anchor, unique on the page: lower-case letters, digits, hyphens. */
  readonly id: string;
  readonly title: string;
  /** Whom it is for, or what it holds, in a few words. */
  readonly lead?: string;
  readonly body: Markup;
  /** Can be folded by its heading; stands open at first. @defaultValue false */
  readonly foldable?: boolean;
}

export interface PageContent {
  /** Title of the window and of the file in a list. */
  readonly title: string;
  /** What is seen first: the answer. Holds the page's only `h1`. */
  readonly masthead: Markup;
  readonly sections: readonly PageSection[];
  /** Last lines: how it was made, what it is worth. */
  readonly footer?: Markup;
}

// Nothing is fetched, no script runs, and of styles only the page's own is obeyed.
const POLICY = [
  "default-src 'none'",
  "img-src data:",
  "media-src data:",
  `style-src 'sha256-${PAGE_STYLE_SHA256}'`,
  "base-uri 'none'",
  "form-action 'none'",
].join("; ");

function sectionMarkup({ id, title, lead, body, foldable }: PageSection): Markup {
  const heading = html`<h2 id="${id}-title">${title}</h2>`;
  const under = lead === undefined ? null : html`<p class="lead">${lead}</p>`;
  if (!foldable) {
    return html`<section id="${id}" aria-labelledby="${id}-title">
      ${heading}${under}${body}
    </section>`;
  }
  return html`<section id="${id}" aria-labelledby="${id}-title">
    <details class="fold" open>
      <summary>${heading}</summary>
      ${under}${body}
    </details>
  </section>`;
}

const contents = (sections: readonly PageSection[]): Markup =>
  html`<nav aria-label="Contents">
    <ul>
      ${sections.map(({ id, title }) => html`<li><a href="#${id}">${title}</a></li>`)}
    </ul>
  </nav>`;

/** Text between tags; not pictures, nor names from outside, which are copied. */
const TEXTS = /<(bdi|style|svg)\b[\s\S]*?<\/\1>|>[^<]+/g;

/** No line of a page may end between a figure and its unit. */
const figuresKept = ({ source }: Markup): string =>
  source.replace(TEXTS, (part) => (part.startsWith(">") ? keepFigures(part) : part));

/**
 * A whole page as one self-contained file: no script, no request to anywhere; pictures and sounds are
 * `data:` addresses, and `style` attributes are not obeyed (use classes and SVG attributes).
 *
 * `html`, `page`, `figure` and the pictures are all that a further report needs: make a masthead with an
 * `h1`, sections with `h3` and below, and hand them over.
 *
 * @returns the text of the file, UTF-8
 */
export function page({ title, masthead, sections, footer }: PageContent): string {
  return figuresKept(
    html`<!doctype html>
      <html lang="en">
        <head>
          <meta charset="utf-8" />
          <meta http-equiv="Content-Security-Policy" content="${POLICY}" />
          <meta name="viewport" content="width=device-width, initial-scale=1" />
          <meta name="referrer" content="no-referrer" />
          <title>${title}</title>
          ${asMarkup(`<style>${PAGE_STYLE}</style>`)}
        </head>
        <body>
          <header class="masthead">${masthead}</header>
          ${sections.length > 1 ? contents(sections) : null}
          <main>${sections.map(sectionMarkup)}</main>
          ${footer === undefined ? null : html`<footer>${footer}</footer>`}
        </body>
      </html> `,
  );
}
