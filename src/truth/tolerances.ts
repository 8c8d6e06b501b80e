/** Dark means at most a twentieth of what is just seen: rule 6. */
export const DARK_SHARE = 1 / 20;
