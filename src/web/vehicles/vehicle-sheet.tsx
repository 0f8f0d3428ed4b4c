// Owns the sheet of vehicle.

export const VehicleSheet = () => <p>…</p>;
