// Owns the sheet of order.

export const OrderSheet = () => <p>…</p>;
