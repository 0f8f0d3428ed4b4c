// Owns what a browser is given to show again: the session's token and the device's, out of reach of scripts and of other sites.

import type { Context } from "hono";
import { getCookie, setCookie } from "hono/cookie";

/** Seconds: browsers keep none longer than 400 days (RFC 6265bis, 5.5). A device's is given anew with each sign-in on it. */
const DEVICE_LIFE = 400 * 86_400;

export class Cookies {
  private readonly isSecure: boolean;
  private readonly session: string;
  private readonly device: string;

  /** @param isSecure over HTTPS: then they go over nothing else, and no other host of the domain can set them (`__Host-`) */
  constructor(isSecure: boolean) {
    this.isSecure = isSecure;
    this.session = isSecure ? "__Host-unmoor" : "unmoor";
    this.device = isSecure ? "__Host-unmoor-device" : "unmoor-device";
  }

  read(c: Context): { readonly session: string | undefined; readonly device: string | undefined } {
    return { session: getCookie(c, this.session), device: getCookie(c, this.device) };
  }

  /** @param life milliseconds */
  giveSession(c: Context, token: string, life: number): void {
    this.give(c, this.session, token, Math.floor(life / 1000));
  }

  takeSession(c: Context): void {
    this.give(c, this.session, "", 0);
  }

  giveDevice(c: Context, token: string): void {
    this.give(c, this.device, token, DEVICE_LIFE);
  }

  private give(c: Context, name: string, value: string, maxAge: number): void {
    setCookie(c, name, value, { httpOnly: true, sameSite: "Strict", path: "/", secure: this.isSecure, maxAge });
  }
}
