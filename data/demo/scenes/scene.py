"""Turns placed meshes into a scene file for POV-Ray, and keeps meshes cached."""
import hashlib
import math
import os
import pickle
import random
import struct
import subprocess
import zlib

import fungi
import shapes
import wood
from shapes import TAU, Mesh, chain, move, noise, place, pov_matrix, scale, turn
from wood import ground

HERE = os.path.dirname(os.path.abspath(__file__))
PARTS = ['none', 'cap', 'gills', 'pores', 'ring', 'stem', 'stem_base', 'flesh', 'body',
         'fertile_surface', 'substrate', 'slip', 'scale', 'spore_print']


def source_mark(module):
    h = hashlib.sha256()
    for f in ('shapes.py', module + '.py'):
        with open(os.path.join(HERE, f), 'rb') as fh:
            h.update(fh.read())
    return h.hexdigest()[:10]


def write_png(path, w, h, data, palette=None):
    """RGB, or one byte per pixel with a palette."""
    bpp = 1 if palette else 3

    def chunk(kind, body):
        return struct.pack('>I', len(body)) + kind + body + struct.pack('>I', zlib.crc32(kind + body))
    raw = b''.join(b'\0' + data[y * w * bpp:(y + 1) * w * bpp] for y in range(h))
    with open(path, 'wb') as f:
        f.write(b'\x89PNG\r\n\x1a\n' + chunk(b'IHDR', struct.pack('>IIBBBBB', w, h, 8, 3 if palette else 2, 0, 0, 0))
                + (chunk(b'PLTE', bytes(palette)) if palette else b'')
                + chunk(b'IDAT', zlib.compress(raw, 9)) + chunk(b'IEND', b''))


class Store:
    """Meshes on disk under the build folder, named by what made them."""

    def __init__(self, build):
        self.build = build
        self.marks = {m: source_mark(m) for m in ('fungi', 'wood')}
        os.makedirs(os.path.join(build, 'meshes'), exist_ok=True)

    def _key(self, *what):
        mark = self.marks['fungi' if what[0] == 'specimen' else 'wood']
        return hashlib.sha256(repr((mark, what)).encode()).hexdigest()[:12]

    def mesh(self, fn, *args, **kw):
        name = 'M_%s_%s' % (fn.__name__, self._key(fn.__name__, args, sorted(kw.items())))
        path = os.path.join(self.build, 'meshes', name + '.inc')
        if not os.path.exists(path):
            self._write(path, fn(*args, **kw).pov(name))
        return name

    def _write(self, path, text):
        tmp = path + '.%d' % os.getpid()
        with open(tmp, 'w') as f:
            f.write(text)
        os.rename(tmp, path)

    def specimen(self, form, name, **kw):
        key = self._key('specimen', form, name, sorted(kw.items()))
        path = os.path.join(self.build, 'meshes', 'S_%s.pickle' % key)
        if os.path.exists(path):
            with open(path, 'rb') as f:
                return pickle.load(f)
        sp = getattr(fungi, form)(name, **kw)
        names = []
        for i, (part, tex, m) in enumerate(sp.parts):
            n = 'M_s%s_%d' % (key, i)
            self._write(os.path.join(self.build, 'meshes', n + '.inc'), m.pov(n))
            # Every tenth vertex is enough to find out how a body lies.
            names.append((part, tex, n, m.v[::10]))
        sp.parts = names
        with open(path + '.%d' % os.getpid(), 'wb') as f:
            pickle.dump(sp, f)
        os.rename(path + '.%d' % os.getpid(), path)
        return sp

    def picture(self, kind, tint, seed):
        name = 'leaf_%s.png' % self._key(kind, tint, seed)
        path = os.path.join(self.build, 'meshes', name)
        if not os.path.exists(path):
            w, h, data = wood.leaf_picture(kind, tint, seed)
            write_png(path + '.%d' % os.getpid(), w, h, data)
            os.rename(path + '.%d' % os.getpid(), path)
        return name

    def code(self, text):
        name = 'code_%s.png' % text.replace(':', '_')
        path = os.path.join(self.build, 'meshes', name)
        if not os.path.exists(path):
            lines = subprocess.run(['qrencode', '-o', '-', '-t', 'ASCII', '-m', '0', '-l', 'M', text], check=True, stdout=subprocess.PIPE).stdout.decode().splitlines()
            # Paper and ink as on the rest of the card; 12 points to a module.
            data = bytearray()
            for line in lines:
                row = b''.join((b'\x26' if line[k] == '#' else b'\xe7') * 36 for k in range(0, len(lines) * 2, 2))
                data += row * 12
            write_png(path, len(lines) * 12, len(lines) * 12, bytes(data))
        return name


TINTS = {
    'oak': [(.56, .41, .25), (.48, .35, .22), (.64, .49, .30), (.40, .29, .19), (.66, .55, .31)],
    'beech': [(.66, .45, .26), (.56, .37, .21), (.71, .53, .31), (.46, .32, .20), (.73, .62, .34)],
    'birch': [(.74, .64, .34), (.67, .54, .30), (.54, .43, .27), (.45, .35, .24), (.66, .61, .34)],
}


class Scene:
    def __init__(self, store):
        self.store = store
        self.meshes, self.items, self.extra, self.pictures = {}, [], [], {}
        self.keep_clear = []
        self.people = []         # (find, letter, specimen) in order of their ids
        self.slip_at = None

    # -- placing
    def put(self, mesh, texture, t, ident=0):
        self.meshes[mesh] = True
        self.items.append((mesh, texture, t, ident))

    def ident(self, find, letter, sp, part):
        k = (find, letter)
        for i, (f, l, _) in enumerate(self.people):
            if (f, l) == k:
                break
        else:
            i = len(self.people)
            self.people.append((find, letter, sp))
        return 16 * i + PARTS.index(part)

    def fruit(self, sp, t, find, letter='a', parts=None):
        for part, tex, name, _ in sp.parts:
            self.put(name, tex, t, self.ident(find, letter, sp, part))
        return t

    def standing(self, sp, find, letter='a', x=0, y=0, rot=0, sink=0, lean=0, lean_dir=0, z=None):
        base = ground(x, y) if z is None else z
        t = chain(turn('z', rot), turn('z', -lean_dir), turn('y', lean), turn('z', lean_dir), move(x, y, base - sink))
        self.keep_clear.append((x, y, 11))
        return self.fruit(sp, t, find, letter)

    def lying(self, sp, find, letter='a', x=0, y=0, rot=0, roll=0, z=None, rest=True):
        base = ground(x, y) if z is None else z
        pts = [p for _, _, _, v in sp.parts for p in v]
        best = None
        for d in [k * 1.5 for k in range(-4, 40)]:
            t = chain(turn('z', roll), turn('y', 90 + d))
            q = [place(t, p) for p in pts[::3]]
            lo = min(p[2] for p in q)
            # It lies still when both its ends touch the ground.
            cap = min((p[2] for p, o in zip(q, pts[::3]) if o[2] > sp.height * .5), default=lo)
            foot = min((p[2] for p, o in zip(q, pts[::3]) if o[2] < sp.height * .35), default=lo)
            if best is None or abs(cap - foot) < best[0]:
                best = (abs(cap - foot), t, lo)
        mid = (sp.height + sp.low) / 2
        t = chain(best[1], move(-mid, 0, -best[2] - 1), turn('z', rot), move(x, y, base))
        return self.fruit(sp, t, find, letter)

    def upside(self, sp, find, letter='a', x=0, y=0, rot=0, tilt=0, tilt_dir=0, z=None):
        base = ground(x, y) if z is None else z
        t = chain(turn('z', rot), turn('x', 180), turn('z', -tilt_dir), turn('y', tilt), turn('z', tilt_dir))
        lo = min(place(t, p)[2] for _, _, _, v in sp.parts for p in v)
        return self.fruit(sp, chain(t, move(x, y, base - lo - 2)), find, letter)

    def mat(self, x, y, w, h, rot, texture='T_Cloth', lift=9, sag=2.5):
        """A cloth or sheet laid on the litter; returns its height at the middle."""
        rows = []
        base = max(ground(x + a * w * .3, y + b * h * .3) for a in (-1, 0, 1) for b in (-1, 0, 1)) + lift
        for j in range(41):
            row = []
            for i in range(53):
                u, v = i / 52 - .5, j / 40 - .5
                e = max(abs(u), abs(v)) * 2
                row.append(((u * w, v * h, sag * noise(u * 6 + x, v * 5 + y) - 9 * max(0, e - .8) ** 1.5 * (1 + noise(u * 7, v * 7))), (u + .5, v + .5)))
            rows.append(row)
        m = Mesh().grid(rows)
        name = 'M_mat_%s' % self.store._key(x, y, w, h, sag, lift)
        path = os.path.join(self.store.build, 'meshes', name + '.inc')
        if not os.path.exists(path):
            self.store._write(path, m.pov(name))
        self.put(name, texture, chain(turn('z', rot), move(x, y, base)))
        self.keep_clear.append((x, y, max(w, h) * .5))
        return base + sag * .5

    def slip(self, number, x, y, rot, z=None, tilt=0, tilt2=0):
        """The printed card, 85 x 54 mm: number, code, 60 mm scale, grey patches."""
        base = (ground(x, y) + 13) if z is None else z
        if z is None:
            self.keep_clear.append((x, y, 46))
        code = self.store.code('WS1:' + number)
        t = chain(turn('x', tilt), turn('y', tilt2), turn('z', rot), move(x, y, base))
        self.extra.append('#declare SlipNumber = "%s" #declare SlipCode = "meshes/%s"\nSlip()\n' % (number, code) + 'object { SlipBody %s }\n' % pov_matrix(t))
        self.slip_at = number

    def slip_upright(self, number, x, y, rot, z):
        self.slip(number, x, y, rot, z, tilt=78)

    def solid(self, text):
        self.extra.append(text)

    # -- the wood
    def clear(self, x, y, margin):
        return all(math.hypot(x - cx, y - cy) > r + margin for cx, cy, r in self.keep_clear)

    def leaf_texture(self, kind, tint):
        n = 'T_Leaf_%s_%d' % (kind, tint)
        self.pictures[n] = self.store.picture(kind, TINTS[kind][tint], tint * 3 + 1)
        return n

    def forest(self, seed, leaves=('oak', 'beech'), moss=.25, grass=.3, ferns=8, trunks=9, bark='T_BarkOak', shrubs=16,
               litter=1.0, needles=0.0, far=True, mid_leaf=62, view=None, near=360, twigs=10, dry_fern=.3, near_trunk=1500):
        rng = random.Random(seed)
        st = self.store
        self.put(st.mesh(wood.floor_mesh), 'T_Floor', move(0, 0, -2))
        kinds = [(k, st.mesh(wood.leaf, k, mid_leaf * (1.25 if k == 'oak' else .7 if k == 'birch' else 1), c, s))
                 for k in leaves for c, s in ((.25, 1), (.8, 2), (-.5, 3), (1.3, 4))]

        def one_leaf(x, y, far_scale=1.0, lift=0.0):
            k, m = rng.choice(kinds)
            tint = rng.choice((0, 0, 1, 1, 2, 3, 3, 4))
            s = rng.uniform(.65, 1.15) * far_scale
            t = chain(scale(s), move(-30 * s, 0, 0), turn('x', rng.gauss(0, 15) + (180 if rng.random() < .35 else 0)), turn('y', rng.gauss(0, 11)),
                      turn('z', rng.uniform(0, 360)), move(x, y, ground(x, y) + rng.uniform(1, 7) * far_scale + lift))
            self.put(m, self.leaf_texture(k, tint), t)
        tiles = [st.mesh(wood.moss_tile, k) for k in range(4)]
        mossy = []

        def moss_here(x, y):
            return noise(x * .006 + seed * 3.7, y * .006 + seed * 1.3) * .5 + .5 + .22 * noise(x * .02, y * .02)
        step = 27
        k = int(600 / step)
        for i in range(-k, k + 1):
            for j in range(-k, k + 1):
                x, y = i * step + rng.uniform(-9, 9), j * step + rng.uniform(-9, 9)
                if moss_here(x, y) > 1 - moss and self.clear(x, y, 10):
                    mossy.append((x, y))
                    s = rng.uniform(.8, 1.25)
                    self.put(rng.choice(tiles), rng.choice(('T_Moss1', 'T_Moss1', 'T_Moss2')),
                             chain(scale(s, s, s * rng.uniform(.8, 1.25)), turn('z', rng.uniform(0, 360)), move(x, y, ground(x, y) - 3)))
        n = int(900 * litter)
        for _ in range(n):
            r, a = near * 1.2 * math.sqrt(rng.random()), rng.uniform(0, TAU)
            x, y = r * math.cos(a), r * math.sin(a)
            green = moss_here(x, y) > 1 - moss
            if self.clear(x, y, 23) and (not green or rng.random() < .18):
                one_leaf(x, y, 1.0, 9 if green else 0)
        for _ in range(int(2600 * litter)):
            r, a = near + 1500 * rng.random() ** 1.3, rng.uniform(0, TAU)
            one_leaf(r * math.cos(a), r * math.sin(a), 1.0 + (r - near) / 1800)
        for _ in range(int(1500 * litter)):
            r, a = 1800 + 5200 * rng.random() ** 1.2, rng.uniform(0, TAU)
            one_leaf(r * math.cos(a), r * math.sin(a), 2.0 + r / 2600)
        if needles:
            tufts = [st.mesh(wood.needle_tuft, k) for k in range(3)]
            for _ in range(int(900 * needles)):
                r, a = 700 * math.sqrt(rng.random()), rng.uniform(0, TAU)
                x, y = r * math.cos(a), r * math.sin(a)
                if self.clear(x, y, 14):
                    self.put(rng.choice(tufts), 'T_Needle', chain(turn('z', rng.uniform(0, 360)), turn('x', rng.gauss(0, 5)), move(x, y, ground(x, y) + rng.uniform(0, 3))))
        blades = [st.mesh(wood.grass_tuft, k, 16, h) for k, h in ((1, 80), (2, 110), (3, 60))]
        for _ in range(int(260 * grass)):
            r, a = 30 + 1100 * rng.random() ** 1.4, rng.uniform(0, TAU)
            x, y = r * math.cos(a), r * math.sin(a)
            if view is not None and r < 460:
                # A photographer bends the blades in front of the lens aside.
                off = abs((math.degrees(a) - view + 180) % 360 - 180)
                if off < 50 or r < 60 and rng.random() < .6:
                    continue
            if self.clear(x, y, 12) and noise(x * .005 + seed, y * .005 + 4) > -.25:
                self.put(rng.choice(blades), rng.choice(('T_Grass1', 'T_Grass1', 'T_Grass2')), chain(scale(rng.uniform(.7, 1.2)), turn('z', rng.uniform(0, 360)), move(x, y, ground(x, y) - 3)))
        tw = [st.mesh(wood.twig, k) for k in range(3)]
        for _ in range(twigs):
            r, a = 60 + 420 * rng.random(), rng.uniform(0, TAU)
            x, y = r * math.cos(a), r * math.sin(a)
            if self.clear(x, y, 60):
                self.put(rng.choice(tw), 'T_Twig', chain(move(-85, 0, 0), scale(rng.uniform(.6, 1.1)), turn('x', rng.uniform(0, 360)), turn('y', rng.uniform(-6, 6)), turn('z', rng.uniform(0, 360)), move(x, y, ground(x, y) + 9)))
        fr = [st.mesh(wood.fern, k) for k in (1, 2)]
        for _ in range(ferns):
            r, a = 750 + 3000 * rng.random(), rng.uniform(0, TAU)
            self.put(rng.choice(fr), 'T_FernDry' if rng.random() < dry_fern else 'T_Fern', chain(scale(rng.uniform(.8, 1.6)), turn('z', rng.uniform(0, 360)), move(r * math.cos(a), r * math.sin(a), ground(r * math.cos(a), r * math.sin(a)))))
        if far:
            tr = [st.mesh(wood.trunk, k, 170, 5200, .25 if bark in ('T_BarkBeech', 'T_BarkBirch') else 1.0) for k in (1, 2, 3)]
            for k in range(trunks):
                r, a = near_trunk + 6000 * (k / trunks) ** 1.1, rng.uniform(0, TAU)
                if view is not None:
                    # Most trunks go where the camera looks; they are what it sees.
                    a = math.radians(view) + math.pi + rng.uniform(-.55, .55) * (1 if k % 4 else 3)
                s = rng.uniform(.45, 1.15) * (.7 if bark == 'T_BarkBirch' else 1)
                self.put(rng.choice(tr), bark, chain(scale(s, s, rng.uniform(.9, 1.3)), turn('z', rng.uniform(0, 360)), turn('x', rng.gauss(0, 2.5)), turn('y', rng.gauss(0, 2.5)), move(r * math.cos(a), r * math.sin(a), 0)))
            sh = [st.mesh(wood.shrub, k) for k in (1, 2)]
            for k in range(shrubs):
                r, a = 2800 + 6500 * (k / shrubs), rng.uniform(0, TAU)
                if view is not None and k % 3:
                    a = math.radians(view) + math.pi + rng.uniform(-.8, .8)
                self.put(rng.choice(sh), 'T_Shrub', chain(scale(rng.uniform(.8, 2.0)), turn('z', rng.uniform(0, 360)), move(r * math.cos(a), r * math.sin(a), -60)))

    # -- the file
    def write(self, path, cam, settings=(), only_people=False):
        """cam: dict at, to, fov, roll, w, h."""
        ax, ay, az = cam['at']
        d = [b - a for a, b in zip(cam['at'], cam['to'])]
        m = math.sqrt(sum(c * c for c in d))
        d = [c / m for c in d]
        up = [0, 0, 1] if abs(d[2]) < .995 else [math.cos(cam.get('spin', 0)), math.sin(cam.get('spin', 0)), 0]
        right = [d[1] * up[2] - d[2] * up[1], d[2] * up[0] - d[0] * up[2], d[0] * up[1] - d[1] * up[0]]
        m = math.sqrt(sum(c * c for c in right))
        right = [c / m for c in right]
        up = [right[1] * d[2] - right[2] * d[1], right[2] * d[0] - right[0] * d[2], right[0] * d[1] - right[1] * d[0]]
        ro = math.radians(cam.get('roll', 0))
        r2 = [a * math.cos(ro) + b * math.sin(ro) for a, b in zip(right, up)]
        u2 = [b * math.cos(ro) - a * math.sin(ro) for a, b in zip(right, up)]
        half = math.tan(math.radians(cam['fov'] / 2))
        v = '<%.9g,%.9g,%.9g>'
        w = ['#version 3.7;']
        w.append('#declare CamPos = %s; #declare CamDir = %s;' % (v % cam['at'], v % tuple(d)))
        w += ['#declare %s = %s;' % s for s in settings]
        w += ['#include "light.inc"', '#include "surfaces.inc"', '#include "slip.inc"']
        for n, p in sorted(self.pictures.items()):
            w.append('#if (!Data) #declare %s = texture { pigment { uv_mapping image_map { png "meshes/%s" interpolate 2 } } finish { F_Silk } } #end' % (n, p))
        w.append('camera { perspective location CamPos direction %s right %s up %s }' % (
            v % tuple(d), v % tuple(2 * half * c for c in r2), v % tuple(2 * half * cam['h'] / cam['w'] * c for c in u2)))
        names = sorted(self.meshes) if not only_people else sorted({i[0] for i in self.items if i[3]})
        w += ['#include "meshes/%s.inc"' % n for n in names]
        w.append('#if (Data) #declare D0 = DataTex(0) #end')
        for mesh, tex, t, ident in self.items:
            if only_people and not ident:
                continue
            w.append('object { %s #if (Data) %s %s #else texture { %s } %s #end }' % (
                mesh, pov_matrix(t), 'texture { D0 }' if not ident else 'DataTex(%d)' % ident, tex, pov_matrix(t)))
        if not only_people:
            w += self.extra
        with open(path, 'w') as f:
            f.write('\n'.join(w) + '\n')
