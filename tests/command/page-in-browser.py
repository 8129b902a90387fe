#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The page of a package in a real browser: Debian's chromium, headless, with the network refused, driven by the DevTools
protocol over a pipe. Prints TAP. Usage: page-in-browser.py TOOL SOURCE-ROOT"""
import base64, json, os, re, shutil, subprocess, sys, tempfile, time, zipfile, zlib

TOOL, ROOT = sys.argv[1:3]
HOSTILE = '<img src=x onerror="window.hacked=1"><script>window.hacked=1</script>'
COUNT = 0


def ok(name, passed, why=''):
    global COUNT
    COUNT += 1
    print(f"{'ok' if passed else 'not ok'} {COUNT} /command/page/{name}" + (f' - {why}' if why and not passed else ''), flush=True)


def skip(name, why):
    global COUNT
    COUNT += 1
    print(f'ok {COUNT} /command/page/{name} # SKIP {why}', flush=True)


class Browser:
    """Chromium with its DevTools on a pipe: messages are JSON, each ended by a NUL."""

    def __init__(self, program, folder):
        to_read, self.out = os.pipe()
        self.into, to_write = os.pipe()
        # It reads its descriptor 3 and writes its descriptor 4, wherever the pipes lie here.
        high = [os.dup(to_read), os.dup(to_write)]
        command = [program, '--headless=new', '--no-sandbox', '--disable-gpu', '--disable-dev-shm-usage', '--no-first-run', '--hide-scrollbars',
                   '--disable-background-networking', '--host-resolver-rules=MAP * ~NOTFOUND', '--proxy-server=refused.invalid:9',
                   f'--user-data-dir={folder}/profile', '--remote-debugging-pipe', 'about:blank']

        def place():
            a, b = os.dup(high[0]), os.dup(high[1])
            os.dup2(a, 3)
            os.dup2(b, 4)
        self.log = open(f'{folder}/chromium.log', 'wb')
        self.process = subprocess.Popen(command, close_fds=False, preexec_fn=place, stdout=self.log, stderr=self.log,
                                        env={**os.environ, 'HOME': folder})
        for fd in (to_read, to_write, *high):
            os.close(fd)
        self.rest, self.number, self.events, self.session = b'', 0, [], None
        target = self.call('Target.createTarget', url='about:blank')['targetId']
        self.session = self.call('Target.attachToTarget', targetId=target, flatten=True)['sessionId']
        for domain in ('Page', 'Network', 'Runtime', 'Log'):
            self.call(domain + '.enable')

    def read(self, seconds):
        import select
        end = time.time() + seconds
        while b'\0' not in self.rest:
            if not select.select([self.into], [], [], max(0, end - time.time()))[0]:
                return None
            data = os.read(self.into, 1 << 20)
            if not data:
                raise RuntimeError('the browser went away')
            self.rest += data
        message, self.rest = self.rest.split(b'\0', 1)
        return json.loads(message)

    def call(self, method, **params):
        self.number += 1
        message = {'id': self.number, 'method': method, 'params': params}
        if self.session:
            message['sessionId'] = self.session
        os.write(self.out, json.dumps(message).encode() + b'\0')
        while True:
            got = self.read(120)
            if got is None:
                raise RuntimeError(f'no answer to {method}')
            if got.get('id') == self.number:
                if 'error' in got:
                    raise RuntimeError(f"{method}: {got['error']}")
                return got['result']
            self.events.append(got)

    def wait(self, method, seconds=60):
        for at, event in enumerate(self.events):
            if event.get('method') == method:
                return self.events.pop(at)['params']
        while True:
            got = self.read(seconds)
            if got is None:
                raise RuntimeError(f'no {method}')
            if got.get('method') == method:
                return got['params']
            self.events.append(got)

    def open(self, url):
        self.events = [e for e in self.events if e.get('method') != 'Page.loadEventFired']
        self.call('Page.navigate', url=url)
        self.wait('Page.loadEventFired')

    def reload(self):
        self.events = [e for e in self.events if e.get('method') != 'Page.loadEventFired']
        self.call('Page.reload')
        self.wait('Page.loadEventFired')

    def js(self, expression):
        got = self.call('Runtime.evaluate', expression=expression, returnByValue=True, awaitPromise=True)
        if 'exceptionDetails' in got:
            raise RuntimeError(json.dumps(got['exceptionDetails'])[:2000])
        return got['result'].get('value')

    def size(self, width, height, mobile):
        self.call('Emulation.setDeviceMetricsOverride', width=width, height=height, deviceScaleFactor=1, mobile=mobile)

    def click(self, x, y):
        for kind in ('mousePressed', 'mouseReleased'):
            self.call('Input.dispatchMouseEvent', type=kind, x=x, y=y, button='left', clickCount=1)

    def key(self, key, code, number):
        for kind in ('keyDown', 'keyUp'):
            self.call('Input.dispatchKeyEvent', type=kind, key=key, code=code, windowsVirtualKeyCode=number,
                      **({'text': '\r'} if key == 'Enter' and kind == 'keyDown' else {}))

    def close(self):
        self.session = None
        try:
            self.call('Browser.close')
        except (RuntimeError, OSError):
            pass
        try:
            self.process.wait(20)
        except subprocess.TimeoutExpired:
            self.process.kill()
        self.log.close()


def make_package(folder, *more):
    def tool(*words):
        done = subprocess.run([TOOL, *words], capture_output=True, text=True)
        if done.returncode:
            raise RuntimeError(f'{words}: {done.stderr}')
        return done.stdout

    library, photos = f'{folder}/library', f'{folder}/photos'
    if not os.path.exists(library):
        os.mkdir(photos)
        for name in ('HZL_1209.jpg', 'HZL_1213.jpg'):
            shutil.copy(f'{ROOT}/data/demo/photos/{name}', photos)
        tool('import', '--library', library, photos)
    find = json.loads(tool('finds', '--json', '--library', library))[0]
    if not os.path.exists(f'{folder}/marked'):
        photo = next(p['photo'] if 'photo' in p else p['id'] for p in find['photos'] if p['file'].endswith('HZL_1213.jpg'))
        tool('mark', '--library', library, find['find'], photo, 'stem_base', '0.2,0.2,0.6,0.6', '--base-kind', 'cleaned')
        tool('note', '--library', library, find['find'], 'growth_form=gilled_stem', 'trees=' + HOSTILE)
        open(f'{folder}/marked', 'w').close()
    out = f'{folder}/{len(os.listdir(folder))}.zip'
    tool('ask', '--library', library, find['find'], '-o', out, '--from', 'Eva Muster', '--question', 'What is it? ' + HOSTILE,
         '--without-base', 'no reason', *more)
    unpacked = out[:-4]
    with zipfile.ZipFile(out) as package:
        package.extractall(unpacked)
    (top,) = os.listdir(unpacked)
    return f'{unpacked}/{top}/data'


def get_axe(folder):
    """axe-core from npm, for this run only. None where it cannot be had."""
    npm = shutil.which('npm')
    if os.environ.get('WS_AXE'):
        return open(os.environ['WS_AXE'], encoding='utf-8').read()
    if not npm:
        return None
    try:
        subprocess.run([npm, 'install', '--no-audit', '--no-fund', '--ignore-scripts', '--prefix', folder, 'axe-core'], check=True,
                       capture_output=True, timeout=90)
    except (subprocess.SubprocessError, OSError):
        return None
    return open(f'{folder}/node_modules/axe-core/axe.min.js', encoding='utf-8').read()


def test_looks(browser, url):
    browser.size(390, 844, True)
    browser.open(url)
    tops = browser.js("['#closeups', '.facts', '.quick-answers'].map(s => document.querySelector(s).getBoundingClientRect()).map(r => [r.top, r.bottom])")
    ok('phone-first-screen', tops[0][0] < tops[1][0] < tops[2][0] and tops[2][0] < 844, f'{tops}')
    wide = browser.js("[document.documentElement.scrollWidth, innerWidth]")
    ok('phone-width', wide[0] <= wide[1], f'{wide}')
    ok('phone-no-plate', browser.js("document.querySelector('.plate').getBoundingClientRect().height") == 0)
    browser.size(1280, 800, False)
    browser.reload()
    places = browser.js("['.plate', '#closeups'].map(s => document.querySelector(s).getBoundingClientRect()).map(r => [r.top, r.height])")
    ok('wide-plate-first', 0 < places[0][1] and places[0][0] < 800 and places[0][0] < places[1][0], f'{places}')
    wide = browser.js("[document.documentElement.scrollWidth, innerWidth]")
    ok('wide-width', wide[0] <= wide[1], f'{wide}')
    grounds = []
    for scheme in ('light', 'dark'):
        browser.call('Emulation.setEmulatedMedia', features=[{'name': 'prefers-color-scheme', 'value': scheme}])
        grounds.append(browser.js("getComputedStyle(document.body).backgroundColor"))
    ok('dark', grounds[0] != grounds[1], f'{grounds}')


def test_hostile(browser, url):
    browser.open(url)
    ok('note-shown', HOSTILE in browser.js("document.body.innerText"))
    ok('note-does-not-run', browser.js("window.hacked === undefined && !document.querySelector('img[src=x]')"))
    refused = browser.js("fetch('http://refused.invalid/').then(() => 'reached', e => 'refused')")
    image = browser.js("new Promise(r => { const i = new Image(); i.onload = () => r('reached'); i.onerror = () => r('refused'); i.src = 'http://refused.invalid/x.png'; })")
    blocked = json.dumps([e for e in browser.events if e.get('method') in ('Log.entryAdded', 'Network.loadingFailed')])
    ok('policy-forbids-network', refused == image == 'refused' and ('csp' in blocked or 'Content Security Policy' in blocked), blocked[:500])
    injected = browser.js("(() => { const s = document.createElement('script'); s.textContent = 'window.injected = 1'; document.body.append(s); return window.injected === undefined; })()")
    ok('policy-forbids-other-scripts', injected)
    browser.events = []
    browser.open(url)
    asked = [e['params']['request']['url'] for e in browser.events if e.get('method') == 'Network.requestWillBeSent']
    ok('asks-for-nothing', all(u.startswith(('data:', 'file:')) for u in asked) and sum(u.startswith('file:') for u in asked) == 1,
       json.dumps([u[:80] for u in asked if not u.startswith('data:')]))


def check_answer(answer, request, digest):
    assert answer['request'] == request['id'] and answer['requestSha512'] == digest, 'names the request'
    assert answer['opinions'][0]['name'] == 'Amanita cf. phalloides', answer['opinions']
    assert answer['opinions'][0]['certainty'] == 'probable'
    reason = answer['opinions'][0]['reasons'][0]
    assert reason['text'] == 'bag at the base' and reason['part']['id'] == 'stem_base' and reason['photo'], reason
    assert [w['view'] and w['view']['id'] for w in answer['wishes']].count('v_under') == 1, answer['wishes']
    assert next(w for w in answer['wishes'] if w['view'])['part'], answer['wishes']
    assert [w['character'] and w['character']['id'] for w in answer['wishes']].count('odour') == 1
    assert answer['deadly'] is True and answer['cannotName'] is False and answer['by'] == 'Dr. Ä <b>'


def fill(browser):
    """As a person would: by keys, by the mouse, by choosing."""
    browser.js("document.querySelector('[data-quick=think]').focus()")
    browser.key('Enter', 'Enter', 13)
    ok('quick-answer-by-key', browser.js("document.activeElement.className") == 'name')
    browser.call('Input.insertText', text='Amanita phalloides')
    browser.js("""(() => {
      const set = (s, v) => { const e = document.querySelector(s); e.value = v; e.dispatchEvent(new Event('input', { bubbles: true })); };
      set('.qualifier', 'cf.'); set('.certainty', 'probable'); set('.why', 'bag at the base');
      set('.seen', [...document.querySelector('.seen').options].find(o => o.value.startsWith('mark ')).value);
      set('#by', 'Dr. Ä <b>');
      document.querySelector('[data-quick=deadly]').click();
      document.querySelector('[data-character=odour]').click(); })()""")
    point = browser.js("""(() => {
      const svg = document.querySelector('.specimen');
      svg.scrollIntoView({ block: 'center' });
      for (const path of svg.querySelectorAll('.outline[data-part=gills]')) {
        const r = path.getBoundingClientRect();
        for (let y = r.top; y < r.bottom; y += 2) for (let x = r.left; x < r.right; x += 2)
          if (document.elementFromPoint(x, y) === path) return [x, y];
      }
      return null; })()""")
    assert point, 'the gills of the figure can be pointed at'
    before = browser.js("document.querySelector('[data-view=v_under]').checked")
    browser.click(*point)
    ok('part-chosen-on-figure', not before and browser.js("document.querySelector('[data-view=v_under]').checked && document.querySelector('.wished') !== null"))


def test_form(browser, url, data, folder):
    import hashlib
    raw = open(f'{data}/request.json', 'rb').read()
    request, digest = json.loads(raw), hashlib.sha512(raw).hexdigest()
    browser.size(1280, 800, False)
    browser.open(url)
    ok('form-there', browser.js("!document.getElementById('answer').hidden"))
    browser.js("document.getElementById('save').click()")
    ok('empty-is-not-saved', browser.js("document.getElementById('said').textContent") != '')
    fill(browser)
    browser.reload()
    ok('input-survives-reload', browser.js("document.querySelector('.name').value") == 'Amanita phalloides'
       and browser.js("document.querySelector('[data-view=v_under]').checked && document.getElementById('deadly').checked"))
    downloads = f'{folder}/downloads'
    os.makedirs(downloads, exist_ok=True)
    browser.call('Page.setDownloadBehavior', behavior='allow', downloadPath=downloads)
    browser.js("document.getElementById('save').click()")
    for _ in range(100):
        files = [f for f in os.listdir(downloads) if f.endswith('.json')]
        if files:
            break
        time.sleep(0.1)
    ok('saved', len(files) == 1 and files[0].startswith('answer '), f'{files}')
    answer = json.load(open(f'{downloads}/{files[0]}', encoding='utf-8'))
    try:
        check_answer(answer, request, digest)
        ok('saved-says-what-was-filled-in', True)
    except AssertionError as error:
        ok('saved-says-what-was-filled-in', False, str(error))
    try:
        import jsonschema
        schema = json.load(open(f'{ROOT}/data/schema/answer-0.1.schema.json', encoding='utf-8'))
        jsonschema.Draft202012Validator.check_schema(schema)
        faults = [e.message for e in jsonschema.Draft202012Validator(schema, format_checker=jsonschema.FormatChecker()).iter_errors(answer)]
        ok('saved-fits-schema', not faults, '; '.join(faults))
    except ImportError:
        skip('saved-fits-schema', 'python3-jsonschema is not installed')
    browser.js("document.getElementById('as-text').click()")
    text = browser.js("document.getElementById('text').value")
    words, _, block = text.partition('-----BEGIN WHOLESTEM ANSWER-----\n')
    lines = block.split('\n-----END WHOLESTEM ANSWER-----')[0].split('\n')
    decoded = base64.b64decode(''.join(lines[:-1]), validate=True)
    ok('text-block', lines[-1] == 'crc32 %08x' % zlib.crc32(decoded) and json.loads(decoded) | {'made': ''} == answer | {'made': ''}
       and max(map(len, lines)) <= 64, lines[-1])
    ok('text-in-words-above', 'Amanita cf. phalloides' in words and 'bag at the base' in words and request['id'][:4].upper() in words, words)
    return answer, f'{downloads}/{files[0]}'


def test_without_script(browser, url):
    browser.call('Emulation.setScriptExecutionDisabled', value=True)
    browser.open(url)
    # Evaluating still works from outside: only the page's own script is off.
    state = browser.js("[document.getElementById('answer').getBoundingClientRect().height,"
                       " [...document.querySelectorAll('[data-quick]')].map(a => a.href)]")
    code = re.search(r'[0-9A-F]{4}-[0-9A-F]{4}', state[1][0])
    ok('without-script', state[0] == 0 and len(state[1]) == 3 and all(h.startswith('mailto:') for h in state[1])
       and code and all(code.group() in h for h in state[1]), json.dumps(state))
    browser.call('Emulation.setScriptExecutionDisabled', value=False)


def test_axe(browser, url, folder):
    source = get_axe(folder)
    if not source:
        skip('axe', 'axe-core cannot be had from npm')
        return
    for name, width, height, scheme in (('phone-light', 390, 844, 'light'), ('wide-dark', 1280, 800, 'dark')):
        browser.size(width, height, width < 500)
        browser.call('Emulation.setEmulatedMedia', features=[{'name': 'prefers-color-scheme', 'value': scheme}])
        browser.open(url)
        browser.js(source + ';0')
        found = browser.js("axe.run(document, { resultTypes: ['violations'] }).then(r => r.violations.filter(v => v.impact === 'serious' || v.impact === 'critical')"
                           ".map(v => v.id + ': ' + v.nodes.slice(0, 3).map(n => n.html.slice(0, 120) + ' ' + n.failureSummary.slice(0, 200)).join(' / ')))")
        ok('axe-' + name, not found, ' | '.join(found).replace('\n', ' ')[:1500])


def test_emergency(browser, folder):
    data = make_package(folder, '--emergency', '--call-back', '+49 30 1234567', '--language', 'de')
    browser.size(390, 844, True)
    browser.open('file://' + data + '/request.html')
    first = browser.js("[document.querySelector('[data-quick]').dataset.quick, document.body.firstElementChild.id]")
    ok('emergency-first-answer', first == ['phone', 'emergency'], f'{first}')


def main():
    program = shutil.which('chromium') or shutil.which('chromium-browser')
    if not program:
        skip('all', 'chromium is not installed')
        print('1..1')
        return
    folder = tempfile.mkdtemp(prefix='ws-page-')
    try:
        data = make_package(folder)
        url = 'file://' + data + '/request.html'
        browser = Browser(program, folder)
        try:
            test_looks(browser, url)
            test_hostile(browser, url)
            _, saved = test_form(browser, url, data, folder)
            test_without_script(browser, url)
            test_axe(browser, url, folder)
            test_emergency(browser, folder)
        finally:
            browser.close()
    finally:
        shutil.rmtree(folder, ignore_errors=True)
    print(f'1..{COUNT}')


main()
