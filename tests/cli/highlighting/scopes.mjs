// Highlights designs as an editor does, and compares each word's scope with what the program's own reader takes it for.
//   node scopes.mjs MODULES GRAMMAR DESIGNS
// DESIGNS: [{name, text, words: [{line, begin, end, kind}]}], counted from 0, in characters of JavaScript.
import { createRequire } from 'node:module';
import { readFileSync } from 'node:fs';

const [modules, grammarFile, designsFile] = process.argv.slice(2);
const require = createRequire(modules + '/');
const { Registry, parseRawGrammar, INITIAL } = require('vscode-textmate');
const oniguruma = require('vscode-oniguruma');

// Which scopes a kind of word may have: the first part of the name of the innermost.
const scopesOf = {
  comment: ['comment.line.double-slash.'],
  text: ['string.quoted.double.'],
  number: ['constant.numeric.'],
  unit: ['keyword.other.unit.'],
  declaration: ['storage.type.', 'keyword.control.import.'],
  call: ['support.function.'],
  keyword: ['keyword.control.', 'keyword.operator.', 'constant.language.', 'storage.type.parameter.'],
  position: ['constant.other.position.'],
  name: ['variable.other.', 'variable.parameter.', 'entity.name.'],
  mark: ['keyword.operator.', 'punctuation.'],
};

const wasm = readFileSync(require.resolve('vscode-oniguruma/release/onig.wasm'));
await oniguruma.loadWASM(wasm.buffer.slice(wasm.byteOffset, wasm.byteOffset + wasm.byteLength));
const registry = new Registry({
  onigLib: Promise.resolve({
    createOnigScanner: (patterns) => new oniguruma.OnigScanner(patterns),
    createOnigString: (text) => new oniguruma.OnigString(text),
  }),
  loadGrammar: async () => parseRawGrammar(readFileSync(grammarFile, 'utf8'), grammarFile),
});
const grammar = await registry.loadGrammar('source.detent');

const faults = [];
let compared = 0;
for (const design of JSON.parse(readFileSync(designsFile, 'utf8'))) {
  const lines = design.text.split(/\r?\n/);
  const words = new Map();
  for (const word of design.words) words.set(word.line, [...(words.get(word.line) ?? []), word]);
  let state = INITIAL;
  lines.forEach((line, number) => {
    const result = grammar.tokenizeLine(line, state);
    state = result.ruleStack;
    const scopes = Array(line.length).fill('');
    for (const token of result.tokens) {
      for (let at = token.startIndex; at < Math.min(token.endIndex, line.length); ++at) scopes[at] = token.scopes.at(-1);
    }
    const place = (at) => `${design.name}:${number + 1}:${at + 1}: ${line.trim()}`;
    const taken = Array(line.length).fill(false);
    for (const word of words.get(number) ?? []) {
      ++compared;
      taken.fill(true, word.begin, word.end);
      for (let at = word.begin; at < word.end; ++at) {
        if (!scopesOf[word.kind].some((scope) => scopes[at].startsWith(scope) && scopes[at].endsWith('.detent'))) {
          faults.push(`${place(at)}\n  '${line.slice(word.begin, word.end)}' is a ${word.kind}, not ${scopes[at]}`);
          break;
        }
      }
    }
    scopes.forEach((scope, at) => {
      const blank = line[at].trim() === '';
      if (!taken[at] && !blank) faults.push(`${place(at)}\n  no word of the reader's: ${scope}`);
      if (!taken[at] && blank && scope !== '' && !/^(source|meta)\./.test(scope) && !scope.startsWith('comment.')) {
        faults.push(`${place(at)}\n  a blank is ${scope}`);
      }
    });
  });
}
for (const fault of faults.slice(0, 20)) console.log(fault);
console.log(faults.length === 0 ? `all as it should be: ${compared} words` : `${faults.length} faults`);
process.exit(faults.length === 0 ? 0 : 1);
