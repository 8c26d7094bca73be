#!/usr/bin/env python3
"""How soon `detent lsp` answers: python3 latency.py PROGRAM [LINES]

Prints, for a claim that no engine decides (pigeons and a hole too few), how long a change in the middle of its proof
takes to bring the verdict on the new text, and how long the end of input takes to end the program; and for a design
of so many lines, how long questions and a keystroke take."""
import json
import subprocess
import sys
import time

HOLES = 11
EASY = 'tick 20 ms\nbutton b\nlatch l set b reset false\noutput o = l\nclaim c: never l\n'
URI = 'file:///measured.detent'


def endless():
    buttons, somewhere, alone = '', [], ''
    for pigeon in range(HOLES + 1):
        buttons += ''.join(f'button p{pigeon}_{hole}\n' for hole in range(HOLES))
        somewhere.append('(' + ' or '.join(f'p{pigeon}_{hole}' for hole in range(HOLES)) + ')')
        alone += ''.join(f' and not (p{pigeon}_{hole} and p{other}_{hole})'
                         for hole in range(HOLES) for other in range(pigeon))
    return 'tick 20 ms\n' + buttons + 'claim endless: never ' + ' and '.join(somewhere) + alone + '\n'


class Client:
    def __init__(self, *options):
        self.process = subprocess.Popen([sys.argv[1], 'lsp', *options], stdin=subprocess.PIPE, stdout=subprocess.PIPE)
        self.last_id = 0
        self.ask('initialize', {'capabilities': {}})

    def send(self, message):
        body = json.dumps({'jsonrpc': '2.0', **message}).encode()
        self.process.stdin.write(b'Content-Length: %d\r\n\r\n' % len(body) + body)
        self.process.stdin.flush()

    def tell(self, method, params):
        self.send({'method': method, 'params': params})

    def until(self, wanted):
        while True:
            length = 0
            for line in iter(self.process.stdout.readline, b'\r\n'):
                if line.lower().startswith(b'content-length'):
                    length = int(line.split(b':')[1])
            message = json.loads(self.process.stdout.read(length))
            if wanted(message):
                return message

    def ask(self, method, params):
        self.last_id += 1
        self.send({'id': self.last_id, 'method': method, 'params': params})
        return self.until(lambda message: 'method' not in message and message['id'] == self.last_id)

    def open(self, text):
        self.tell('textDocument/didOpen', {'textDocument': {'uri': URI, 'languageId': 'detent', 'version': 1, 'text': text}})

    def change(self, changes):
        self.tell('textDocument/didChange', {'textDocument': {'uri': URI, 'version': 2}, 'contentChanges': changes})

    def end(self):
        self.process.stdin.close()
        self.process.wait()


def timed(work):
    start = time.monotonic()
    work()
    return time.monotonic() - start


def publishes(word):
    return lambda message: message.get('method') == 'textDocument/publishDiagnostics' and word in json.dumps(message)


def after_a_change(wait):
    client = Client('--timeout', '1h', '--jobs', '2')
    client.open(endless())
    time.sleep(wait)

    def change():
        client.change([{'text': EASY}])
        client.tell('textDocument/didSave', {'textDocument': {'uri': URI}})
        client.until(publishes('refuted'))
    taken = timed(change)
    client.end()
    return taken


def after_the_end(wait):
    client = Client('--timeout', '1h', '--jobs', '2')
    client.open(endless())
    time.sleep(wait)
    return timed(client.end)


def large(lines):
    text = 'tick 20 ms\nbutton b0\n' + ''.join(f'signal b{i + 1} = not b{i}\n' for i in range(lines))
    client = Client('--jobs', '1')

    def open_it():
        client.open(text + f'claim c: possible b{lines}\n')
        client.until(publishes(''))
    print(f'{lines} lines, opened: {timed(open_it):.2f} s')
    place = {'textDocument': {'uri': URI}, 'position': {'line': lines // 2, 'character': 9}, 'newName': 'other'}
    for method in ('hover', 'completion', 'references', 'rename', 'documentSymbol'):
        print(f'  {method}: {timed(lambda: client.ask("textDocument/" + method, place)):.2f} s')

    def key():
        here = {'line': 1, 'character': 0}
        client.change([{'range': {'start': here, 'end': here}, 'text': '\n'}])
        client.until(publishes(''))
    print(f'  diagnostics after a keystroke: {timed(key):.2f} s')
    client.process.kill()


changes = sorted(after_a_change(0.5 + 0.3 * i) for i in range(10))
print(f'a change in the middle of a proof, to the verdict on the new text: at most {changes[-1]:.2f} s in ten')
ends = sorted(after_the_end(1 + i) for i in range(5))
print(f'the end of input in the middle of a proof: at most {ends[-1]:.2f} s in five')
large(int(sys.argv[2]) if len(sys.argv) > 2 else 20_000)
