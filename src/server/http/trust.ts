// Owns what a tablet needs before it trusts this server: the page that says how, the authority's certificate, and the code to scan.

import { createServer, type Server } from "node:http";
import { toString as qrText } from "qrcode";
import type { Authority } from "./authority.ts";

/** The code of an address for a terminal. */
export const codeOf = (address: string): Promise<string> =>
  qrText(address, { type: "utf8", errorCorrectionLevel: "M", margin: 2 });

const asHtml = (text: string): string =>
  text.replace(/[&<>"]/g, (letter) => ({ "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" })[letter] ?? letter);

const page = ({ fingerprint }: Authority, address: string): string => `<!doctype html>
<html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>Trust this shop's server</title>
<style>body{font:1.1rem/1.5 system-ui,sans-serif;max-width:38rem;margin:2rem auto;padding:0 1rem;color:#111;background:#fff}
code{overflow-wrap:anywhere}a.go{display:inline-block;border:2px solid;padding:.8rem 1.2rem;margin:.5rem 0;color:inherit;text-decoration:none}
@media(prefers-color-scheme:dark){body{color:#eee;background:#111}}</style>
<h1>Trust this shop's server</h1>
<p>To work without the network a tablet must reach the server by a safe connection. This shop has an authority of its own for that. Do this once on each tablet.</p>
<ol>
<li>Take the certificate: <a class="go" href="/authority.crt" download>unmoor-authority.crt</a></li>
<li>Compare its fingerprint (SHA-256) with the one on the server's console. If they differ, stop, and tell whoever keeps the server.<br><code>${asHtml(fingerprint)}</code></li>
<li>Install it as a trusted authority.
<ul>
<li>On most tablets and telephones: open the settings, search for <em>certificate</em>, and install the downloaded file as an authority (“CA certificate”). Some ask afterwards to switch it on under <em>certificate trust</em>.</li>
<li>On a desk computer: open the file and add it to the trusted root authorities of the system, or import it in the browser's settings under certificates, authorities.</li>
</ul></li>
<li>Open the server: <a class="go" href="${asHtml(address)}">${asHtml(address)}</a></li>
</ol>
<p>Names of settings differ; whoever keeps the tablets knows them. Installing an authority means trusting it: it can vouch for any site to this tablet. Its key never leaves the server's folder.</p></html>
`;

/** Serves the page on plain HTTP, and nothing else: no sign-in, nothing of the shop. @param address of the server itself */
export const trustServer = (authority: Authority, address: (host: string) => string): Server =>
  createServer((request, response) => {
    const host = (request.headers.host ?? "localhost").replace(/:\d+$/, "");
    response.setHeader("x-content-type-options", "nosniff");
    response.setHeader(
      "content-security-policy",
      "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'",
    );
    if (request.url === "/authority.crt") {
      response.setHeader("content-type", "application/x-x509-ca-cert");
      response.setHeader("content-disposition", 'attachment; filename="unmoor-authority.crt"');
      response.end(authority.authority);
    } else if (request.url === "/") {
      response.setHeader("content-type", "text/html; charset=utf-8");
      response.end(page(authority, address(/^[\w.:[\]-]{1,200}$/.test(host) ? host : "localhost")));
    } else response.writeHead(404).end();
  });
