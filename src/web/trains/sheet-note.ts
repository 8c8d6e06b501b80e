/** The note that this device keeps a running sheet in, by the key of its panel. Run asks for it before anything else of trains is fetched. */
export const sheetNote = (key: string): string => `trains.${key}`;
