// A whole session by a client library that is not ours: vscode-languageserver-protocol 3.17.5 over vscode-jsonrpc,
// the published implementation of the protocol's client side. Its checks of kind (`….is`) look at every answer, and
// places are counted by JavaScript, whose strings are UTF-16.
//   node session.mjs MODULES PROGRAM FOLDER DESIGN
// FOLDER has endless.detent, library.detent and user.detent; DESIGN is specs/boat/flaw_window_kept_alive.detent.
import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';

const [modules, program, folder, design] = process.argv.slice(2);
const lsp = createRequire(modules + '/')('vscode-languageserver-protocol/node');
let looked = 0;
const check = (good, what) => {
  ++looked;
  if (!good) throw new Error(what);
};

const child = spawn(program, ['lsp', '--jobs', '1', '--timeout', '60s'], { stdio: ['pipe', 'pipe', 'inherit'] });
const ended = new Promise((resolve) => child.on('exit', (code, signal) => resolve(signal ?? code)));
const connection = lsp.createProtocolConnection(
  new lsp.StreamMessageReader(child.stdout), new lsp.StreamMessageWriter(child.stdin));
connection.onError(([error]) => { throw error; });
connection.onUnhandledNotification((one) => { throw new Error('unknown notification ' + one.method); });

const published = new Map();
let waiting = [];
connection.onNotification(lsp.PublishDiagnosticsNotification.type, (params) => {
  params.diagnostics.forEach((one) => check(lsp.Diagnostic.is(one), 'no diagnostic: ' + JSON.stringify(one)));
  published.set(params.uri, params);
  waiting = waiting.filter((one) => !one(params));
});
/** Resolves when what is published for the URI is as wanted. */
const diagnostics = (uri, wanted) => new Promise((resolve, reject) => {
  const late = setTimeout(() => reject(new Error('waited in vain: ' + JSON.stringify(published.get(uri)))), 60000);
  const look = (params) => {
    if (params?.uri !== uri || !wanted(params)) return false;
    clearTimeout(late);
    resolve(params);
    return true;
  };
  if (!look(published.get(uri))) waiting.push(look);
});
const tokens = [];
const kinds = [];
connection.onRequest(lsp.WorkDoneProgressCreateRequest.type, ({ token }) => {
  tokens.push(token);
  connection.onProgress(lsp.WorkDoneProgress.type, token, (value) => kinds.push(value.kind));
});
let refreshed = 0;
connection.onRequest(lsp.InlayHintRefreshRequest.type, () => { ++refreshed; });
connection.listen();

const texts = new Map();
const offset = (text, { line, character }) => text.split('\n').slice(0, line).reduce((sum, one) => sum + one.length + 1, 0) + character;
const cut = (text, range) => text.slice(offset(text, range.start), offset(text, range.end));
const position = (text, at) => {
  const lines = text.slice(0, at).split('\n');
  return { line: lines.length - 1, character: lines.at(-1).length };
};
const apply = (text, edits) => [...edits]
  .sort((one, other) => offset(text, other.range.start) - offset(text, one.range.start))
  .reduce((made, edit) => made.slice(0, offset(text, edit.range.start)) + edit.newText + made.slice(offset(text, edit.range.end)), text);
const uriOf = (name) => pathToFileURL(folder + '/' + name).href;
const open = (uri, text, version = 1) => {
  texts.set(uri, text);
  return connection.sendNotification(lsp.DidOpenTextDocumentNotification.type,
    { textDocument: { uri, languageId: 'detent', version, text } });
};
const at = (uri, word, more = {}) => {
  const index = texts.get(uri).indexOf(word);
  check(index >= 0, word + ' is not there');
  return { textDocument: { uri }, position: position(texts.get(uri), index), ...more };
};

// ---- Lifecycle ----
const early = await connection.sendRequest(lsp.HoverRequest.type, { textDocument: { uri: 'file:///x' }, position: { line: 0, character: 0 } })
  .then(() => 0, (error) => error.code);
check(early === lsp.ErrorCodes.ServerNotInitialized, 'answered before initialize: ' + early);
const { capabilities, serverInfo } = await connection.sendRequest(lsp.InitializeRequest.type, {
  processId: process.pid, rootUri: null, workspaceFolders: null,
  capabilities: {
    general: { positionEncodings: [lsp.PositionEncodingKind.UTF16] },
    window: { workDoneProgress: true },
    workspace: { inlayHint: { refreshSupport: true } },
    textDocument: {
      publishDiagnostics: { relatedInformation: true, versionSupport: true, tagSupport: { valueSet: [1, 2] } },
      hover: { contentFormat: ['markdown', 'plaintext'] }, inlayHint: {},
      documentSymbol: { hierarchicalDocumentSymbolSupport: true }, rename: { prepareSupport: true } } } });
check(serverInfo.name === 'detent', 'another name');
check(capabilities.positionEncoding === 'utf-16', 'another encoding');
check(capabilities.textDocumentSync.change === lsp.TextDocumentSyncKind.Incremental, 'no incremental sync');
for (const one of ['hoverProvider', 'definitionProvider', 'referencesProvider', 'renameProvider', 'completionProvider',
  'documentSymbolProvider', 'documentFormattingProvider', 'inlayHintProvider', 'documentHighlightProvider']) {
  check(capabilities[one], 'no ' + one);
}
await connection.sendNotification(lsp.InitializedNotification.type, {});

// ---- Verdicts ----
const boat = pathToFileURL(design).href;
await open(boat, readFileSync(design, 'utf8'));
const verdicts = await diagnostics(boat, (one) => one.diagnostics.some((each) => each.code === 'refuted'));
const refuted = verdicts.diagnostics.find((one) => one.code === 'refuted');
check(verdicts.version === 1, 'no version');
check(refuted.severity === lsp.DiagnosticSeverity.Error, 'not an error');
check(cut(texts.get(boat), refuted.range) === 'window_closes', 'another place');
check(refuted.relatedInformation.length > 4, 'no run');
refuted.relatedInformation.forEach((one) => check(lsp.DiagnosticRelatedInformation.is(one), 'no related place'));
check(refuted.relatedInformation.some((one) => cut(texts.get(boat), one.location.range) === 'rudder' && one.message.includes('you move rudder')), 'nobody moves the rudder');
const hints = await connection.sendRequest(lsp.InlayHintRequest.type,
  { textDocument: { uri: boat }, range: { start: { line: 0, character: 0 }, end: { line: 9999, character: 0 } } });
hints.forEach((one) => check(lsp.InlayHint.is(one), 'no inlay hint'));
check(hints.some((one) => one.label.startsWith('proved')) || hints.some((one) => one.label.startsWith('REFUTED')), 'no verdict in the hints');
check(tokens.length > 0 && kinds.includes('begin') && kinds.includes('end'), 'no progress: ' + kinds);
check(refreshed > 0, 'no refresh');
await connection.sendNotification(lsp.DidChangeTextDocumentNotification.type, {
  textDocument: { uri: boat, version: 2 },
  contentChanges: [{ range: { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } }, text: '// \u{1F6A4}\n' }] });
texts.set(boat, '// \u{1F6A4}\n' + texts.get(boat));
await diagnostics(boat, (one) => one.version === 2 && !one.diagnostics.some((each) => each.code === 'refuted'));
await connection.sendNotification(lsp.DidSaveTextDocumentNotification.type, { textDocument: { uri: boat } });
const again = await diagnostics(boat, (one) => one.diagnostics.some((each) => each.code === 'refuted'));
check(cut(texts.get(boat), again.diagnostics.find((one) => one.code === 'refuted').range) === 'window_closes', 'a stale place');

// ---- Names, over files ----
const user = uriOf('user.detent');
const library = uriOf('library.detent');
await open(user, readFileSync(folder + '/user.detent', 'utf8'));
texts.set(library, readFileSync(folder + '/library.detent', 'utf8'));
await diagnostics(user, () => true);
const hover = await connection.sendRequest(lsp.HoverRequest.type, at(user, 'thrust'));
check(lsp.Hover.is(hover) && hover.contents.value.includes('From -100 % to 100 %'), 'no hover');
check(cut(texts.get(user), hover.range) === 'thrust', 'a hover elsewhere');
const definition = await connection.sendRequest(lsp.DefinitionRequest.type, at(user, 'ready and'));
check(lsp.Location.is(definition) && definition.uri === library && cut(texts.get(library), definition.range) === 'ready', 'another definition');
const references = await connection.sendRequest(lsp.ReferencesRequest.type, at(user, 'ready and', { context: { includeDeclaration: true } }));
check(references.length === 3, 'other references');
references.forEach((one) => check(lsp.Location.is(one) && cut(texts.get(one.uri), one.range) === 'ready', 'a reference elsewhere'));
const highlights = await connection.sendRequest(lsp.DocumentHighlightRequest.type, at(user, 'thrust'));
check(highlights.length === 2 && highlights.every((one) => lsp.Range.is(one.range)), 'no highlights');
const prepared = await connection.sendRequest(lsp.PrepareRenameRequest.type, at(user, 'ready and'));
check(prepared.placeholder === 'ready', 'not prepared');
const renamed = await connection.sendRequest(lsp.RenameRequest.type, at(user, 'ready and', { newName: 'steady' }));
check(lsp.WorkspaceEdit.is(renamed) && Object.keys(renamed.changes).length === 2, 'no edit');
await open(library, apply(texts.get(library), renamed.changes[library]));
await connection.sendNotification(lsp.DidChangeTextDocumentNotification.type,
  { textDocument: { uri: user, version: 2 }, contentChanges: [{ text: apply(texts.get(user), renamed.changes[user]) }] });
texts.set(user, apply(texts.get(user), renamed.changes[user]));
const after = await diagnostics(user, (one) => one.version === 2);
check(after.diagnostics.every((one) => one.severity > lsp.DiagnosticSeverity.Error), 'a broken rename');
const refusal = await connection.sendRequest(lsp.RenameRequest.type, at(user, 'thrust', { newName: 'latch' })).then(() => '', (error) => error.message);
check(refusal.includes('word of the language'), 'no refusal: ' + refusal);
const items = await connection.sendRequest(lsp.CompletionRequest.type, at(user, 'run\nclaim'));
check(items.items.every((one) => typeof one.label === 'string' && lsp.TextEdit.is(one.textEdit)) && items.items.some((one) => one.label === 'safe'), 'no positions');
const symbols = await connection.sendRequest(lsp.DocumentSymbolRequest.type, { textDocument: { uri: library } });
check(symbols.every((one) => lsp.DocumentSymbol.is(one)) && symbols[0].children.length > 0, 'no outline');
const edits = await connection.sendRequest(lsp.DocumentFormattingRequest.type, { textDocument: { uri: user }, options: { tabSize: 2, insertSpaces: true } });
check(edits.length > 0 && edits.every((one) => lsp.TextEdit.is(one)), 'no layout');
const laidOut = apply(texts.get(user), edits);
await open(user, laidOut, 3);
const none = await connection.sendRequest(lsp.DocumentFormattingRequest.type, { textDocument: { uri: user }, options: { tabSize: 2, insertSpaces: true } });
check(none.length === 0, 'layout is not settled');

// ---- Cancellation ----
const endless = uriOf('endless.detent');
await open(endless, readFileSync(folder + '/endless.detent', 'utf8'));
const source = new lsp.CancellationTokenSource();
const endlessly = connection.sendRequest(lsp.ExecuteCommandRequest.type, { command: 'detent.check', arguments: [endless] }, source.token);
setTimeout(() => source.cancel(), 500);
const started = Date.now();
const code = await endlessly.then(() => 0, (error) => error.code);
check(code === lsp.LSPErrorCodes.RequestCancelled, 'not cancelled: ' + code);
check(Date.now() - started < 500 + 3000, 'cancelled late');
const unknown = await connection.sendRequest('textDocument/noSuch', {}).then(() => 0, (error) => error.code);
check(unknown === lsp.ErrorCodes.MethodNotFound, 'an unknown method: ' + unknown);

// ---- The end ----
await connection.sendRequest(lsp.ShutdownRequest.type);
await connection.sendNotification(lsp.ExitNotification.type);
const status = await ended;
check(status === 0, 'ended with ' + status);
console.log(looked + ' things looked at, all as it should be');
process.exit(0);
