/** The rescue page: lists every panel in the database with all its states, and gives each as a file. Needs nothing of the application. */

import { rescueWords } from '../words/rescue.ts';
import { isRaw, lastState } from './last-state.ts';
import { type Records, readRecords, say } from './read-records.ts';

type Raw = Readonly<Record<string, unknown>>;

const element = (id: string): HTMLElement => {
  const found = document.getElementById(id);
  if (found === null) throw new Error(`The page has no element #${id}.`);
  return found;
};

function make<K extends keyof HTMLElementTagNameMap>(tag: K, text = '', name = ''): HTMLElementTagNameMap[K] {
  const made = document.createElement(tag);
  made.textContent = text;
  made.className = name;
  return made;
}

/** A line with a link that gives a text as a file. */
function fileLine(words: string, file: string, text: string): HTMLLIElement {
  const [line, link] = [make('li'), make('a', words)];
  link.href = URL.createObjectURL(new Blob([text], { type: 'application/json' }));
  link.download = file;
  line.append(link);
  return line;
}

const when = (ms: unknown): string =>
  typeof ms === 'number' ? rescueWords.moment(new Date(ms)) : rescueWords.unknownTime;
const text = (value: unknown): string => (typeof value === 'string' ? value : '');
const fileName = (title: string, what: string): string =>
  `${`${title} ${what}`
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')}.mimic.json`;

/** Which panel a record is of, by its key where the record itself does not say. */
const panelOf = ({ key, value }: { readonly key: unknown; readonly value: unknown }): string => {
  if (isRaw(value) && typeof value.panel === 'string') return value.panel;
  return String(Array.isArray(key) ? key[0] : key);
};

function panelSection(id: string, { stores }: Records): HTMLElement {
  const of = (store: string): unknown[] =>
    (stores.get(store) ?? []).filter((record) => panelOf(record) === id).map(({ value }) => value);
  const [record] = of('panels');
  const raw: Raw = isRaw(record) ? record : {};
  const title = text(raw.title) || text(raw.name) || rescueWords.untitled;
  const section = make('section');
  const files = make('ul');
  section.dataset.panel = id;
  section.append(make('h2', title));
  section.append(
    isRaw(record)
      ? make('p', rescueWords.changed(when(raw.changed), typeof raw.away === 'number'))
      : make('p', rescueWords.noRecord, 'wrong'),
  );
  const last = lastState(record, of('entries'), of('snapshots'));
  for (const wrong of last?.wrongs ?? [rescueWords.noState]) section.append(make('p', wrong, 'wrong'));
  if (last !== null)
    files.append(fileLine(rescueWords.lastState(last.seq), fileName(title, rescueWords.files.lastState), last.text));
  for (const version of of('versions').filter(isRaw)) {
    const name = text(version.name) || rescueWords.nameless;
    const words = rescueWords.version(name, when(version.at));
    files.append(fileLine(words, fileName(title, name), text(version.text)));
  }
  for (const snapshot of of('snapshots').filter(isRaw).reverse()) {
    const words = rescueWords.snapshot(String(snapshot.seq));
    files.append(fileLine(words, fileName(title, rescueWords.files.after(String(snapshot.seq))), text(snapshot.text)));
  }
  const everything = Object.fromEntries(
    [...stores.keys()].map((store) => [store, store === 'handles' ? [] : of(store)]),
  );
  files.append(
    fileLine(
      rescueWords.everything,
      fileName(title, rescueWords.files.records).replace('.mimic', ''),
      JSON.stringify(everything, null, 1),
    ),
  );
  section.append(files);
  return section;
}

/** Panels that the browser had once, by the note beside the database. */
function noted(): readonly string[] {
  try {
    const list: unknown = JSON.parse(localStorage.getItem('mimicwright.panels') ?? '[]');
    return Array.isArray(list) ? list.filter(isRaw).map(({ title }) => text(title)) : [];
  } catch {
    return [];
  }
}

async function show(): Promise<void> {
  const [said, found] = [element('said'), element('found')];
  try {
    const records = await readRecords();
    const ids = [...new Set([...(records?.stores.values() ?? [])].flatMap((store) => store.map(panelOf)))].sort();
    if (records === null || ids.length === 0) {
      said.textContent = rescueWords.none(noted());
      return;
    }
    said.textContent = rescueWords.found(ids.length);
    for (const wrong of records.wrongs) found.append(make('p', wrong, 'wrong'));
    for (const id of ids) {
      try {
        found.append(panelSection(id, records));
      } catch (error) {
        found.append(make('p', rescueWords.panelFailed(id, say(error)), 'wrong'));
      }
    }
  } catch (error) {
    said.textContent = rescueWords.closed(say(error));
  }
}

void show();
