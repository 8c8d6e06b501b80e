/** The contact budget: contacts that a drive has, less one for each frog that it feeds, less one for each root of lamps. */

/** One thing that wants a contact of a drive. */
export interface ContactUse {
  readonly drive: string;
  /** The contact that it has; null where it wants one and none is left. */
  readonly contact: string | null;
  readonly kind: 'frog' | 'lamps' | 'other';
  /** The frog, or what the record of the drive says of the contact. */
  readonly id: string;
  /** Uses without a contact that one contact would serve have the same; absent: the use stands alone. */
  readonly shares?: string;
}

/** What one drive has and owes. Lists stand in the order of the uses. */
export interface ContactBudget {
  readonly drive: string;
  readonly has: number;
  /** Contacts that frogs take, those without one among them; frogs that share one count once. */
  readonly frogs: number;
  readonly lamps: number;
  readonly other: number;
  /** Contacts wanted in all: one with two things on it counts once. */
  readonly needs: number;
  /** What is left; below nothing where it is overdrawn. */
  readonly left: number;
  /** Contacts that nothing takes. */
  readonly free: readonly string[];
  /** Frogs that want one and get none. */
  readonly without: readonly string[];
}

/** The budget of each drive, in the order of the drives. Contacts that a drive does not have are wanted all the same. */
export function budgetContacts(
  drives: readonly { readonly id: string; readonly contacts: number }[],
  uses: readonly ContactUse[],
): readonly ContactBudget[] {
  const byDrive = new Map<string, ContactUse[]>();
  for (const use of uses) byDrive.set(use.drive, [...(byDrive.get(use.drive) ?? []), use]);
  return drives.map(({ id, contacts }) => {
    const mine = byDrive.get(id) ?? [];
    const counted = (kind?: ContactUse['kind']): number =>
      new Set(mine.flatMap((use) => (kind === undefined || use.kind === kind ? [rootOf(use)] : []))).size;
    const taken = new Set(mine.flatMap(({ contact }) => contact ?? []));
    const names = Array.from({ length: contacts }, (_, i) => `${id}.c${i + 1}`);
    const needs = counted();
    return {
      drive: id,
      has: contacts,
      frogs: counted('frog'),
      lamps: counted('lamps'),
      other: counted('other'),
      needs,
      left: contacts - needs,
      free: names.filter((name) => !taken.has(name)),
      without: mine.flatMap((use) => (use.contact === null && use.kind === 'frog' ? [use.id] : [])),
    };
  });
}

function rootOf({ contact, kind, id, shares }: ContactUse): string {
  return contact ?? `without ${kind} ${shares ?? id}`;
}
