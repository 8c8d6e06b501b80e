/** Words that must stand wherever the sums of this kind are shown: what can hurt, and what to do about it. Common practice, no source. */

/** Beside every capacitor that stores a throw. */
export const CHARGED_CAPACITOR_CAUTION =
  'A charged capacitor holds its charge after the supply is off and can weld or burn: before touching anything, discharge it through 100 ohm, 2 W, for three seconds, and measure that it is empty; never with a screwdriver.';

/** Beside every coil that is made for a pulse. */
export const HELD_COIL_CAUTION =
  'A coil that is made for a pulse burns when it is held on its feed: use a contact that lets go, and a fuse or a capacitor unit that cannot hold it.';

/** Beside every contact that opens while a coil carries current. */
export const OPENED_COIL_CAUTION =
  'A coil whose current is cut off drives its volts up until something gives way: fit a diode across every coil, cathode to plus, or the contact burns in the arc.';
