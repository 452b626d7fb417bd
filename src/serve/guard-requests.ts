// serve: a request → let through only if it comes from the bench's own page, in a browser that was given the token.
import { createHash, randomBytes, timingSafeEqual } from "node:crypto";
import type { Context, MiddlewareHandler } from "hono";
import { getCookie } from "hono/cookie";
import type { ErrorWords } from "../api/answer-error-schema.js";
import { capitalised } from "../core/sentence-case.js";

/** What a run of the bench is known by. */
export interface Session {
  /** Where it listens. */
  port: number;
  /** Random: whoever knows it may use the bench. */
  readonly token: string;
}

/** Begin a session: 32 random bytes. */
export function beginSession(): Session {
  return { port: 0, token: randomBytes(32).toString("base64url") };
}

/** Name of the cookie. Cookies are shared by all ports of a machine, so the port is part of it. */
const cookieName = (port: number): string => `faultglow-${port}`;

/** Style of the page that refuses, which loads nothing. */
const REFUSAL_STYLE = `
:root { color-scheme: light dark; font: 17px/1.5 system-ui, sans-serif; }
body { max-width: 38rem; margin: 12vh auto; padding: 0 1.2rem; }
h1 { font-size: 1.3rem; }
code { background: #8883; padding: 0 .3em; border-radius: 3px; overflow-wrap: anywhere; }
`;
const styleHash = createHash("sha256").update(REFUSAL_STYLE).digest("base64");

/** Headers of every answer. Pages may load what this server gives, and nothing else; no other page may show, read or
 *  embed any of it (W3C Content Security Policy 3, Fetch Metadata, CORP, COOP). */
const HEADERS: Readonly<Record<string, string>> = Object.freeze({
  "Content-Security-Policy": [
    "default-src 'none'",
    "script-src 'self'",
    `style-src 'self' 'sha256-${styleHash}'`,
    "img-src 'self' blob: data:",
    "font-src 'self'",
    "connect-src 'self'",
    "worker-src 'self'",
    "manifest-src 'self'",
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
  ].join("; "),
  "X-Content-Type-Options": "nosniff",
  "X-Frame-Options": "DENY",
  "Referrer-Policy": "no-referrer",
  "Cross-Origin-Opener-Policy": "same-origin",
  "Cross-Origin-Resource-Policy": "same-origin",
  "Permissions-Policy": "camera=(), microphone=(), geolocation=()",
  "Cache-Control": "no-store",
});

/** Put the headers on every answer that does not bring its own. */
export const setHeaders: MiddlewareHandler = async (c, next) => {
  await next();
  for (const [name, value] of Object.entries(HEADERS))
    if (!c.res.headers.has(name)) c.res.headers.set(name, value);
};

/** Let a request through, take the token of the printed address, or refuse.
 *  Host: a name that an attacker's server gives to 127.0.0.1 (DNS rebinding) is not one of ours. Origin and
 *  Sec-Fetch-Site: what another page sends is told by the browser. Cookie: other users and programs of the machine
 *  don't have it. */
export function guardRequests(session: Session): MiddlewareHandler {
  return async (c, next) => {
    const own = [`127.0.0.1:${session.port}`, `localhost:${session.port}`];
    // A request may name its address twice, and then the one in its first line holds (RFC 9112, 3.2.2; section from
    // memory).
    const hosts = [c.req.header("host") ?? "", new URL(c.req.url).host].map((host) => host.toLowerCase());
    if (!hosts.every((host) => own.includes(host)))
      return refuse(c, 403, "the address in the request is not the bench's own");
    const token = c.req.query("token");
    if (token !== undefined && c.req.method === "GET" && c.req.path === "/") {
      if (!isSame(token, session.token))
        return refuse(c, 401, "the token in the address is not that of this run");
      c.header(
        "Set-Cookie",
        `${cookieName(session.port)}=${session.token}; HttpOnly; SameSite=Strict; Path=/`,
      );
      return c.redirect("/", 303);
    }
    const origin = c.req.header("origin");
    const changes = c.req.method !== "GET" && c.req.method !== "HEAD";
    const isOwnOrigin = origin !== undefined && own.some((one) => origin === `http://${one}`);
    if (origin === undefined ? changes : !isOwnOrigin)
      return refuse(c, 403, "the request comes from another page or program");
    const site = c.req.header("sec-fetch-site");
    if (site !== undefined && site !== "same-origin" && site !== "none")
      return refuse(c, 403, "the request comes from another page");
    const cookie = getCookie(c, cookieName(session.port));
    if (cookie === undefined || !isSame(cookie, session.token))
      return refuse(c, 401, "this browser was not given the token of this run");
    return next();
  };
}

const FIX = "Open the address that faultglow bench printed when it was started";

function refuse(c: Context, status: 401 | 403, problem: string): Response {
  const words: ErrorWords = { code: "E_BENCH_REFUSED", problem, fix: FIX, place: null };
  c.header("Connection", "close");
  if (c.req.path.startsWith("/api/")) return c.json({ error: words }, status);
  return c.html(refusalPage(capitalised(problem)), status);
}

/** What a person sees who opened the bench by another address than the printed one. */
function refusalPage(problem: string): string {
  return `<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>faultglow bench: not opened</title>
<style>${REFUSAL_STYLE}</style>
<h1>The bench does not open this way</h1>
<p>${problem}.</p>
<p>${FIX}: it stands in the terminal, ends with <code>/?token=</code> and a row of letters, and is a new one each time the bench is started. If it runs no longer, start it again: <code>faultglow bench</code></p>
<p>No job is lost: jobs are folders on this machine.</p>
</html>
`;
}

/** Compare in a time that does not tell how much of it is right. */
function isSame(a: string, b: string): boolean {
  const hash = (text: string): Buffer => createHash("sha256").update(text).digest();
  return timingSafeEqual(hash(a), hash(b));
}
