// Owns what the compiler must know of styles: the build takes them, nothing comes back.

declare module "*.css";
