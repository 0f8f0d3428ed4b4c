// Owns the loading of what only a server needs: its libraries are large, and no other command waits for them.

export const loadServe = async () => (await import("./serve.ts")).serve;

export const loadWork = async () => (await import("./work.ts")).work;

/** What a server with an authority of its own needs besides. */
export const loadAuthority = async () => {
  const [{ localAuthority, namesOfMachine }, { codeOf, trustServer }] = await Promise.all([
    import("./http/authority.ts"),
    import("./http/trust.ts"),
  ]);
  return { localAuthority, namesOfMachine, codeOf, trustServer };
};
