// load: a request as `fetch` takes it → the bench's answer, waited for as long as the bench may still give one.
// Node's own fetch gives up after 10 s without a connection and 300 s without an answer: on a machine whose processors
// others have, that tells slow from slower, not living from dead. A bench that has ended is known at once, by its
// closed port.
import { Agent, type IncomingMessage, request } from "node:http";

/** A bench that says nothing for so long, ms, hangs. */
const HANGS_MS = 600_000;
/** Connections are kept and used again, as a browser does. */
const agent = new Agent({ keepAlive: true });

/** Ask, and wait for the first words of the answer.
 *  @throws Error if the bench is not there, hangs up, or says nothing for ten minutes. */
export function openAnswer(address: string, init: RequestInit, isSecond = false): Promise<IncomingMessage> {
  return new Promise((resolve, reject) => {
    const { method = "GET", headers, signal, body } = init;
    const asked = request(
      address,
      { agent, method, headers: headers as Record<string, string>, ...(signal ? { signal } : {}) },
      resolve,
    );
    asked.setTimeout(HANGS_MS, () =>
      asked.destroy(new Error(`${method} ${address}: nothing for ten minutes`)),
    );
    asked.on("error", (error: NodeJS.ErrnoException) => {
      // A kept connection that was closed meanwhile: browsers ask again, once, by a new one.
      if (asked.reusedSocket && error.code === "ECONNRESET" && !isSecond)
        openAnswer(address, { ...init, headers: { ...(headers as object), connection: "close" } }, true).then(
          resolve,
          reject,
        );
      else reject(error);
    });
    asked.end(body instanceof ArrayBuffer ? new Uint8Array(body) : body);
  });
}

/** Ask, and wait for the whole answer. */
export async function askBench(address: string, init: RequestInit): Promise<Response> {
  const answer = await openAnswer(address, init);
  const parts: Buffer[] = [];
  for await (const part of answer) parts.push(part as Buffer);
  const type = answer.headers["content-type"];
  // Some statuses may have no body.
  const body = parts.length === 0 ? null : Buffer.concat(parts);
  return new Response(body, {
    status: answer.statusCode!,
    ...(type ? { headers: { "content-type": type } } : {}),
  });
}
