// Owns the loading of what few need: a server's libraries and the shapes of documents are large, and no other command waits for them.

export const loadServe = async () => (await import("./serve.ts")).serve;

export const loadWork = async () => (await import("./work.ts")).work;

/** The shapes of what is said of orders and runs, to check it by. */
export const loadDocuments = () => import("./run-documents.ts");

/** What a server with an authority of its own needs besides. */
export const loadAuthority = async () => {
  const [{ localAuthority, namesOfMachine }, { codeOf, trustServer }] = await Promise.all([
    import("./http/authority.ts"),
    import("./http/trust.ts"),
  ]);
  return { localAuthority, namesOfMachine, codeOf, trustServer };
};
