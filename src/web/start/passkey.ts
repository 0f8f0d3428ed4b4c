// Owns passkeys on the browser's side: its own calls, with bytes written as the Web Authentication standard's JSON has them (base64url).

import { call } from "../shop/calls.ts";

/** Bound to a name, and given on a safe connection only. */
export const canShowPasskey = (): boolean =>
  isSecureContext && "PublicKeyCredential" in globalThis && !/^[\d.]+$|:|^\[/.test(location.hostname);

const bytesOf = (text: string): Uint8Array<ArrayBuffer> =>
  Uint8Array.from(atob(text.replaceAll("-", "+").replaceAll("_", "/")), (sign) => sign.charCodeAt(0));

const textOf = (bytes: ArrayBuffer): string =>
  btoa(String.fromCharCode(...new Uint8Array(bytes)))
    .replaceAll("+", "-")
    .replaceAll("/", "_")
    .replaceAll("=", "");

interface Named {
  readonly id: string;
  readonly transports?: AuthenticatorTransport[];
}
const named = (list: readonly Named[] = []): PublicKeyCredentialDescriptor[] =>
  list.map(({ id, ...more }) => ({ ...more, type: "public-key", id: bytesOf(id) }));

type Asked<T> = Omit<T, "challenge" | "excludeCredentials" | "allowCredentials"> & { readonly challenge: string };
type AskedToMake = Asked<PublicKeyCredentialCreationOptions> & {
  readonly user: { readonly id: string; readonly name: string; readonly displayName: string };
  readonly excludeCredentials?: readonly Named[];
};
type AskedToShow = Asked<PublicKeyCredentialRequestOptions> & { readonly allowCredentials?: readonly Named[] };

const given = (credential: Credential | null): PublicKeyCredential => {
  if (credential instanceof PublicKeyCredential) return credential;
  throw new DOMException("no passkey came", "NotAllowedError");
};
const headOf = ({ id, rawId, type }: PublicKeyCredential) => ({ id, rawId: textOf(rawId), type });

/** Makes one of one's own. @throws Refusal; DOMException where the browser gives none */
export const makePasskey = async (label: string): Promise<void> => {
  const { body: asked } = await call<AskedToMake>("POST", "/passkeys/options");
  const made = given(
    await navigator.credentials.create({
      publicKey: {
        ...asked,
        challenge: bytesOf(asked.challenge),
        user: { ...asked.user, id: bytesOf(asked.user.id) },
        excludeCredentials: named(asked.excludeCredentials),
      },
    }),
  );
  const response = made.response as AuthenticatorAttestationResponse;
  await call("POST", "/passkeys", {
    label,
    made: {
      ...headOf(made),
      response: {
        clientDataJSON: textOf(response.clientDataJSON),
        attestationObject: textOf(response.attestationObject),
        transports: response.getTransports(),
      },
    },
  });
};

/** Signs in by one. @throws Refusal; DOMException where the browser gives none */
export const showPasskey = async (): Promise<void> => {
  const { body: asked } = await call<AskedToShow>("POST", "/sign-in/passkey/options");
  const shown = given(
    await navigator.credentials.get({
      publicKey: {
        ...asked,
        challenge: bytesOf(asked.challenge),
        allowCredentials: named(asked.allowCredentials),
      },
    }),
  );
  const response = shown.response as AuthenticatorAssertionResponse;
  await call("POST", "/sign-in/passkey", {
    ...headOf(shown),
    response: {
      clientDataJSON: textOf(response.clientDataJSON),
      authenticatorData: textOf(response.authenticatorData),
      signature: textOf(response.signature),
      ...(response.userHandle === null ? {} : { userHandle: textOf(response.userHandle) }),
    },
  });
};
