/** No word that a user reads stands outside this folder: every script of the application is parsed and looked through. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';

const web = join(import.meta.dirname, '..');

/** What stands in these is read or heard, whatever it looks like: props of elements and parts, and keys of plain objects. */
const READ =
  /^(aria-(label|description|placeholder|roledescription|valuetext)|title|placeholder|alt|label|head|heading|note|hint|word|words|says?|caption|legend|summary)$/;

/** Calls whose texts become what a user reads. */
const TELLS = /^(say|announce|alert|confirm|prompt)$/;

/** A panel made up for tests, whose words no user reads. */
const SAMPLE = join('run', 'sample.ts');

/** Names of type, which are the same in every language. */
const NAMES: readonly string[] = ['Atkinson Hyperlegible Next', 'Sofia Sans Greek', 'National Park'];

/** At least two letters in a row: not a sign, a unit of one letter or a number. */
const LETTERS = /\p{L}{2}/u;

/** Two words, the first with a capital: a sentence or a label wherever it stands. */
const SENTENCE = /^\s*\p{Lu}[\p{L}’']*[,:;]?\s+\p{L}/u;

/** Four words of letters in a row: a sentence without its capital. Lists of classes hold hyphens or fewer words. */
const RUN_OF_WORDS = /(?:^|\s)(?:\p{L}+[,:;.’']?\s+){3,}\p{L}+/u;

interface Loose {
  readonly line: number;
  readonly text: string;
}

/** Words that stand in a script itself. Faults in the program, which only a report shows, and class names are not words. */
function looseWords(file: string, source: string): readonly Loose[] {
  const tree = ts.createSourceFile(
    file,
    source,
    ts.ScriptTarget.ES2022,
    true,
    file.endsWith('x') ? ts.ScriptKind.TSX : ts.ScriptKind.TS,
  );
  const found: Loose[] = [];
  const tell = (node: ts.Node, text: string): void => {
    found.push({ line: tree.getLineAndCharacterOfPosition(node.getStart()).line + 1, text: text.trim() });
  };
  const look = (node: ts.Node, isRead: boolean): void => {
    if (ts.isImportDeclaration(node) || ts.isExportDeclaration(node) || ts.isTypeNode(node)) return;
    if (ts.isThrowStatement(node) || (ts.isNewExpression(node) && /Error$/.test(node.expression.getText()))) return;
    if (ts.isJsxText(node)) {
      if (LETTERS.test(node.text)) tell(node, node.text);
      return;
    }
    if (ts.isJsxAttribute(node)) {
      const name = node.name.getText();
      if (name === 'className' || node.initializer === undefined) return;
      look(node.initializer, READ.test(name));
      return;
    }
    // What stands between tags is read, unless a part takes it: then the part's own props are looked at.
    if (ts.isJsxExpression(node)) {
      const between = ts.isJsxElement(node.parent) || ts.isJsxFragment(node.parent);
      if (node.expression !== undefined) look(node.expression, between || isRead);
      return;
    }
    if (ts.isJsxElement(node) || ts.isJsxSelfClosingElement(node) || ts.isJsxFragment(node)) {
      ts.forEachChild(node, (child) => look(child, false));
      return;
    }
    if (ts.isPropertyAssignment(node)) {
      const key = ts.isStringLiteral(node.name) || ts.isIdentifier(node.name) ? node.name.text : '';
      look(node.initializer, READ.test(key));
      return;
    }
    if (ts.isCallExpression(node)) {
      const of = ts.isPropertyAccessExpression(node.expression) ? node.expression.name : node.expression;
      const tells = ts.isIdentifier(of) && TELLS.test(of.text);
      look(node.expression, false);
      for (const argument of node.arguments) look(argument, tells);
      return;
    }
    // A condition is asked, not read; what it chooses between is.
    if (ts.isConditionalExpression(node)) {
      look(node.condition, false);
      look(node.whenTrue, isRead);
      look(node.whenFalse, isRead);
      return;
    }
    if (ts.isBinaryExpression(node)) {
      const reads =
        isRead &&
        [
          ts.SyntaxKind.PlusToken,
          ts.SyntaxKind.QuestionQuestionToken,
          ts.SyntaxKind.BarBarToken,
          ts.SyntaxKind.AmpersandAmpersandToken,
        ].includes(node.operatorToken.kind);
      look(node.left, reads);
      look(node.right, reads);
      return;
    }
    if (ts.isElementAccessExpression(node) || ts.isArrowFunction(node)) {
      ts.forEachChild(node, (child) => look(child, false));
      return;
    }
    if (
      ts.isStringLiteralLike(node) ||
      ts.isTemplateHead(node) ||
      ts.isTemplateMiddle(node) ||
      ts.isTemplateTail(node)
    ) {
      const { text } = node;
      if (NAMES.includes(text)) return;
      if ((isRead && LETTERS.test(text)) || SENTENCE.test(text) || RUN_OF_WORDS.test(text)) tell(node, text);
      return;
    }
    ts.forEachChild(node, (child) => look(child, isRead));
  };
  look(tree, false);
  return found;
}

const scripts = readdirSync(web, { recursive: true, encoding: 'utf8' })
  .filter(
    (file) =>
      /\.tsx?$/.test(file) && !/\.(test|d)\.tsx?$/.test(file) && file !== SAMPLE && !file.startsWith(`words${sep}`),
  )
  .sort();

describe('words on screen', () => {
  it('stand in this folder alone', () => {
    expect(scripts.length).toBeGreaterThan(100);
    const loose = scripts.flatMap((file) =>
      looseWords(file, readFileSync(join(web, file), 'utf8')).map(
        ({ line, text }) => `${relative(web, join(web, file))}:${line}: ${text}`,
      ),
    );
    expect(loose).toEqual([]);
  });

  it.each([
    ['text between tags', '<p>Lay a strip</p>'],
    ['one word between tags', '<b>Lamps</b>'],
    ['a text in braces', "<p>{'Strip'}</p>"],
    ['a choice in braces', "<p>{on ? 'On' : words.off}</p>"],
    ['a template in braces', `<p>{\`\${n} lamps\`}</p>`],
    ['a label', '<button aria-label="Close" />'],
    ['a title that is put together', "<i title={'Throw ' + id} />"],
    ['a placeholder', '<input placeholder={name ?? "None"} />'],
    ['a prop of a part', '<Field label="Width" />'],
    ['an alternative text', '<img alt="The sheet" />'],
    ['a key that is shown', "const a = { head: 'Routes' };"],
    ['a sentence anywhere', "const a = 'Nothing is laid yet';"],
    ['a sentence without a capital', "const a = 'nothing is laid here';"],
    ['what is announced', "announce('thrown');"],
  ])('are found elsewhere: %s', (_, source) => {
    expect(looseWords('a.tsx', source)).toHaveLength(1);
  });

  it.each([
    ['class names', '<p className="tray open" />'],
    ['what is compared', "<p>{kind === 'lamp' ? words.lamp : words.lever}</p>"],
    ['units and signs', '<p>× ° {n}</p>'],
    ['faults in the program', "throw new RangeError('There is no such place');"],
    ['imports', "import { a } from './a b c d e.ts';"],
    ['names of edits', "put(panel, 'lamp.put', [])"],
  ])('are not: %s', (_, source) => {
    expect(looseWords('a.tsx', source)).toEqual([]);
  });
});
