import { createHash } from "node:crypto";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { asMarkup, base64, html } from "../../../src/report/html/markup.js";
import { page } from "../../../src/report/html/page.js";
import { PAGE_STYLE, PAGE_STYLE_SHA256 } from "../../../src/report/html/style.js";

describe("markup", () => {
  it("lets no text become markup, between tags or in an attribute", () => {
    const leaks: string[] = [];
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), (text) => {
        const made = html`<p title="${text}">${text}</p>`.source;
        const inside = made.slice('<p title="'.length, -"</p>".length);
        const halves = inside.split('">');
        if (halves.length !== 2 || halves.some((half) => /[<>"']/.test(half))) leaks.push(text);
      }),
    );
    expect(leaks).toEqual([]);
  });

  it("keeps what is markup, joins lists and leaves nothing out but nothing", () => {
    const rows = ["a&b", "c"].map((text) => html`<li>${text}</li>`);
    expect(html`${rows}${null}${undefined}${false}${0}`.source).toBe("<li>a&amp;b</li><li>c</li>0");
    expect(html`${asMarkup("<b>x</b>")}`.source).toBe("<b>x</b>");
  });

  it("shows marks that turn the reading direction as their code (Unicode UAX 9)", () => {
    for (const code of [0x200e, 0x200f, 0x202a, 0x202e, 0x2066, 0x2069, 0x0000]) {
      const shown = html`${`a${String.fromCharCode(code)}b`}`.source;
      expect(shown).toBe(`a\\u${code.toString(16).padStart(4, "0")}b`);
    }
  });

  it("writes base64 as RFC 4648 has it", () => {
    const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);
    expect(["", "f", "fo", "foo", "foob", "fooba", "foobar"].map((t) => base64(bytes(t)))).toEqual([
      "",
      "Zg==",
      "Zm8=",
      "Zm9v",
      "Zm9vYg==",
      "Zm9vYmE=",
      "Zm9vYmFy",
    ]);
    const long = Uint8Array.from({ length: 100_000 }, (_, i) => (i * 7919) & 255);
    expect(base64(long)).toBe(Buffer.from(long).toString("base64"));
  });
});

describe("the frame of a page", () => {
  const sections = ["one", "two"].map((id) => ({ id, title: `Part ${id}`, body: html`<p>x</p>` }));
  const made = page({ title: "<T>", masthead: html`<h1>T</h1>`, sections });

  it("names the hash of its own style in the policy, as CSP level 3 computes it", () => {
    const hash = createHash("sha256").update(PAGE_STYLE).digest("base64");
    expect(PAGE_STYLE_SHA256).toBe(hash);
    const style = /<style>([\s\S]*?)<\/style>/.exec(made)![1];
    expect(style).toBe(PAGE_STYLE);
    expect(made).toContain(`style-src &#39;sha256-${hash}&#39;`);
  });

  it("forbids everything by default and holds no script, link, frame or inline style", () => {
    expect(made).toContain("default-src &#39;none&#39;");
    expect(made).not.toMatch(/<(script|link|iframe|object|embed|form)\b|\sstyle=|\son\w+=/i);
  });

  it("lists its sections and escapes its title", () => {
    expect(made).toContain("<title>&lt;T&gt;</title>");
    for (const { id, title } of sections) {
      expect(made).toContain(`<a href="#${id}">${title}</a>`);
      expect(made).toContain(`id="${id}"`);
    }
  });
});
