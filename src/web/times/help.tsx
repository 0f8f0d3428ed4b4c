// Owns a paragraph of help that is opened where it is needed.

export const Help = ({ title, children }: { readonly title: string; readonly children: string }) => (
  <details class="help">
    <summary>{title}</summary>
    <p>{children}</p>
  </details>
);
