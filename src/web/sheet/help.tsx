// Owns the paragraph that explains an idea where it is needed.

export const Help = ({ title, children }: { readonly title: string; readonly children: string }) => (
  <details class="help">
    <summary>{title}</summary>
    {children.split("\n\n").map((paragraph) => (
      <p key={paragraph.slice(0, 20)}>{paragraph}</p>
    ))}
  </details>
);
