// Owns the choice of what somebody may do at a site.

import { useWords } from "../words/words.ts";
import { ROLES } from "./role-words.ts";

export const RoleBoxes = ({
  site,
  roles,
  change,
  disabled = false,
}: {
  readonly site: string;
  readonly roles: readonly string[];
  readonly change: (roles: readonly string[]) => void;
  readonly disabled?: boolean;
}) => {
  const words = useWords();
  return (
    <fieldset class="roles" disabled={disabled}>
      <legend>{disabled ? words.people.elsewhere(site) : words.people.rolesAt(site)}</legend>
      {ROLES.map((role) => {
        const [name, what] = words.people.roles[role];
        return (
          <label key={role}>
            <input
              type="checkbox"
              checked={roles.includes(role)}
              onChange={({ currentTarget }) =>
                change(ROLES.filter((one) => (one === role ? currentTarget.checked : roles.includes(one))))
              }
            />
            <span>
              {name}
              <small>{what}</small>
            </span>
          </label>
        );
      })}
    </fieldset>
  );
};
