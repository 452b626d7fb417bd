import { describe, expect, it } from "vitest";
import { escapeHtml } from "../../../src/report/escape-html.js";
import { visibleText } from "../../../src/report/visible-text.js";

describe("visibleText", () => {
  it("shows terminal commands instead of running them", () => {
    expect(visibleText("a\u001b[31mred\u0007\r\nb\u009bJ")).toBe("a\\x1b[31mred\\x07\\x0d\\x0ab\\x9bJ");
  });

  it("shows marks that turn the reading direction, zero-width characters and lone surrogates", () => {
    expect(visibleText("evil\u202egnp.exe\u200b\ufeff\ud800")).toBe(
      "evil\\u202egnp.exe\\u200b\\ufeff\\ud800",
    );
  });

  it("leaves letters of any script, signs and pairs of surrogates alone", () => {
    const text = "U12 Ωµ°±−… 充電IC ключ \u{1F525}";
    expect(visibleText(text)).toBe(text);
  });
});

describe("escapeHtml", () => {
  it("leaves nothing that could open an element, an attribute or an entity", () => {
    expect(escapeHtml(`<img src=x onerror="a('b')">&amp;\``)).toBe(
      "&lt;img src=x onerror=&quot;a(&#39;b&#39;)&quot;&gt;&amp;amp;&#96;",
    );
  });

  it("makes control characters visible before it escapes", () => {
    expect(escapeHtml("\u0000<\u001b")).toBe("\\x00&lt;\\x1b");
  });
});
