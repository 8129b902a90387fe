"""The invented wood: floor, leaves, moss, grass, ferns, trunks."""
import math
import random

from shapes import (Mesh, TAU, along, chain, curve, fractal, move, noise, revolve,
                    scale, tube, turn)


def ground(x, y, rough=1.0):
    """Height of the floor in mm."""
    return rough * (22 * noise(x * .0016, y * .0016, 5.5) + 9 * noise(x * .006, y * .006, 1.5) + 3.5 * noise(x * .02, y * .02, 9.5)) + \
        max(0, math.hypot(x, y) - 900) * .012 * noise(x * .0007, y * .0007, 2.5) * 6


def floor_mesh(rough=1.0):
    # Rings that widen outward: fine where the camera is, coarse far off.
    rows, r = [], 0.0
    while r < 16000:
        rows.append([((r * math.cos(TAU * i / 150), r * math.sin(TAU * i / 150),
                       ground(r * math.cos(TAU * i / 150), r * math.sin(TAU * i / 150), rough)
                       + (1.1 * noise(r * math.cos(TAU * i / 150) * .12, r * math.sin(TAU * i / 150) * .12, 3) if r < 700 else 0)),
                      (i / 150, r / 16000)) for i in range(151)])
        r += 5 if r < 60 else r * .045 + 3
    return Mesh().grid(rows)


LEAF_OUTLINE = {
    # Half width over the length, as fractions of the length.
    'beech': ((0, .0), (.08, .10), (.25, .25), (.45, .305), (.65, .27), (.85, .14), (1, 0)),
    'birch': ((0, .0), (.06, .17), (.2, .33), (.35, .35), (.6, .22), (.85, .07), (1, 0)),
    'oak': ((0, .01), (.08, .055), (.2, .12), (.4, .2), (.6, .265), (.75, .275), (.87, .22), (.95, .13), (1, 0)),
}


def leaf(kind, length, curl, seed):
    """One dead leaf, lying along +x from its stalk, cupped and waved."""
    outline = [(x, max(0, w)) for x, w in curve(LEAF_OUTLINE[kind], 18)]
    if kind == 'oak':
        # Rounded lobes, deeper towards the middle.
        outline = [(x, w * (1 + (.30 - .22 * abs(x - .5)) * math.sin(x * TAU * 4.3 + seed) - .1 * math.sin(x * TAU * 8.6)))
                   for x, w in [(k / 42, max(0, along(LEAF_OUTLINE['oak'], k / 42))) for k in range(43)]]
    rows = []
    for x, w in outline:
        row = []
        for k in range(-5, 6):
            q = k / 5
            y = q * w
            z = curl * (.55 * abs(y) ** 1.3 * 1.6 - .28 * (x - .5) ** 2 * 2 + .10 * fractal(x * 2.6 + seed * 7, y * 5 + seed)) \
                + .035 * noise(x * 9 + seed, y * 16) * (.4 + abs(q)) + .02 * abs(q) * math.sin(x * 60)
            row.append(((x * length, y * length, z * length), (x, .5 + y * 1.35)))
        rows.append(row)
    m = Mesh().grid(rows)
    stalk = [(-.16 * length + .16 * length * i / 5, 0, rows[0][5][0][2] + .01 * length * (5 - i) * curl) for i in range(6)]
    m.add(tube(stalk, .009 * length, 5))
    return m


def needle_tuft(seed):
    rng = random.Random(seed)
    m = Mesh()
    for _ in range(26):
        a, x, y = rng.uniform(0, TAU), rng.uniform(-25, 25), rng.uniform(-25, 25)
        l, t = rng.uniform(9, 16), rng.uniform(-.3, .3)
        m.add(tube([(x, y, 1), (x + l * .5 * math.cos(a), y + l * .5 * math.sin(a), 2 + t), (x + l * math.cos(a), y + l * math.sin(a), 1 + 3 * t)], .45, 4))
    return m


def moss_tile(seed, size=46, shoots=150):
    """A cushion of moss: many small shoots with whorled leaves."""
    rng = random.Random(seed)
    m = Mesh()
    for _ in range(shoots):
        r, a = size / 2 * math.sqrt(rng.random()), rng.uniform(0, TAU)
        x, y = r * math.cos(a), r * math.sin(a)
        dome = 1 - (r / (size / 2)) ** 2
        h = (6 + 9 * rng.random()) * (.45 + .6 * dome)
        lx, ly = rng.uniform(-.35, .35) + x / size, rng.uniform(-.35, .35) + y / size
        for k in range(17):
            t = .25 + .75 * k / 16
            b = rng.uniform(0, TAU)
            px, py, pz = x + lx * h * t * .7, y + ly * h * t * .7, h * t * (.75 + .4 * dome)
            l = 2.6 * (1.15 - t * .55)
            up = 1.0 + t * 1.1
            ca, sa = math.cos(b), math.sin(b)
            tip = (px + l * ca, py + l * sa, pz + l * up * .55)
            mid0 = (px + l * .45 * ca - .38 * sa, py + l * .45 * sa + .38 * ca, pz + l * up * .33)
            mid1 = (px + l * .45 * ca + .38 * sa, py + l * .45 * sa - .38 * ca, pz + l * up * .33)
            i = [m.point((px, py, pz), (.5, t)), m.point(mid0, (.2, t)), m.point(mid1, (.8, t)), m.point(tip, (.5, t + .1))]
            m.f += [(i[0], i[1], i[2]), (i[1], i[3], i[2])]
    return m


def grass_tuft(seed, blades=16, height=90):
    rng = random.Random(seed)
    m = Mesh()
    for _ in range(blades):
        a, x, y = rng.uniform(0, TAU), rng.gauss(0, 7), rng.gauss(0, 7)
        h, lean, w = height * rng.uniform(.45, 1.1), rng.uniform(.15, .95), rng.uniform(.7, 1.5)
        ca, sa = math.cos(a), math.sin(a)
        rows = []
        for i in range(12):
            t = i / 11
            out = lean * h * t * t * .8
            z = h * (t - .45 * lean * t ** 2.6)
            ww = w * (1 - t ** 2.5) + .05
            rows.append([((x + out * ca - ww * sa, y + out * sa + ww * ca, z), (0, t)), ((x + out * ca, y + out * sa, z - .35 * ww), (.5, t)),
                         ((x + out * ca + ww * sa, y + out * sa - ww * ca, z), (1, t))])
        m.grid(rows)
    return m


def fern_frond(seed, length=420):
    rng = random.Random(seed)
    m = Mesh()
    spine = [(length * .75 * t, 0, length * (.75 * t - .62 * t * t * t)) for t in [i / 26 for i in range(27)]]
    m.add(tube(spine, [2.2 - .07 * i for i in range(27)], 6))
    for i in range(4, 27):
        t = i / 26
        pl = length * .26 * math.sin(math.pi * (.12 + .88 * (1 - t)) ** .8) * (1 - .3 * t)
        for s in (-1, 1):
            x0, _, z0 = spine[i]
            k = 9
            for j in range(k):
                q = (j + .5) / k
                w = pl / k * .62
                l2 = pl * .17 * (1 - q * .8)
                px, py, pz = x0 + pl * q * .35, s * pl * q, z0 - pl * q * q * .18
                droop = rng.uniform(-2, 1)
                a = m.point((px - w, py, pz), (q, 0))
                b = m.point((px + w, py + s * w * .3, pz), (q, 0))
                c = m.point((px + l2 * .5 + w * .4, py + s * w, pz + droop), (q, 1))
                d = m.point((px - l2 - w * .2, py + s * w * .8, pz + droop), (q, 1))
                e = m.point((px + l2 + w * .3, py + s * w * .8, pz + droop), (q, 1))
                m.f += [(a, b, d), (a, b, e), (b, c, d)]
    return m


def fern(seed):
    rng = random.Random(seed)
    m = Mesh()
    fr = [fern_frond(seed * 10 + k) for k in range(2)]
    n = 7
    for k in range(n):
        m.add(rng.choice(fr), chain(turn('y', rng.uniform(-22, 12)), scale(rng.uniform(.7, 1.15)), turn('z', 360 * k / n + rng.uniform(-20, 20))))
    return m


def shrub(seed, size=900, leaves=2600):
    """A loose cloud of leaves on a few sticks; only ever seen out of focus."""
    rng = random.Random(seed)
    m = Mesh()
    for _ in range(leaves):
        a, h = rng.uniform(0, TAU), rng.random()
        r = size * .45 * math.sqrt(rng.random()) * (.4 + math.sin(math.pi * min(1, h * .9 + .1)))
        x, y, z = r * math.cos(a), r * math.sin(a), size * h
        l, b, t = rng.uniform(14, 32), rng.uniform(0, TAU), rng.uniform(-.9, .9)
        u = (math.cos(b) * l, math.sin(b) * l, t * l * .5)
        w = (-math.sin(b) * l * .3, math.cos(b) * l * .3, rng.uniform(-.4, .4) * l)
        i = [m.point((x, y, z), (0, h)), m.point((x + u[0] * .5 + w[0], y + u[1] * .5 + w[1], z + u[2] * .5 + w[2]), (.5, h)),
             m.point((x + u[0], y + u[1], z + u[2]), (1, h)), m.point((x + u[0] * .5 - w[0], y + u[1] * .5 - w[1], z + u[2] * .5 - w[2]), (.5, h))]
        m.f += [(i[0], i[1], i[2]), (i[0], i[2], i[3])]
    for _ in range(9):
        a = rng.uniform(0, TAU)
        m.add(tube([(0, 0, -20), (size * .12 * math.cos(a), size * .12 * math.sin(a), size * .5), (size * .3 * math.cos(a), size * .3 * math.sin(a), size)], [5, 3, 1], 5))
    return m


def trunk(seed, radius=170, height=5200, plates=1.0, fine=False):
    """A tree trunk with furrowed bark and a flared foot."""
    n, k = (170, 150) if fine else (64, 50)
    rows = []
    for j in range(k + 1):
        z = -120 + (height + 120) * (j / k) ** (1.6 if not fine else 1.3)
        row = []
        for i in range(n + 1):
            a = TAU * (i % n) / n
            c, s = math.cos(a), math.sin(a)
            flare = 1 + .75 * math.exp(-max(0, z + 60) / 240) * (1 + .55 * noise(c * 2 + seed, s * 2))
            fur = abs(noise(c * 7 + seed + .4 * noise(z * .02), s * 7, z * .0045)) + .5 * abs(noise(c * 17 + seed, s * 17, z * .016))
            r = radius * flare * (1 - .06 * z / 5000) + plates * 26 * (fur - .3) * (radius / 170) ** .5
            row.append(((r * c + .02 * z * noise(seed * 3.3), r * s + .02 * z * noise(seed * 5.7), z), (a / TAU, z / 1000)))
        rows.append(row)
    return Mesh().grid(rows)


def log(seed, radius=95, length=1500):
    """A fallen log along x, its axis at z = 0."""
    n, k = 150, 190
    rows = []
    for j in range(k + 1):
        x = -length / 2 + length * j / k
        row = []
        for i in range(n + 1):
            a = TAU * (i % n) / n
            c, s = math.cos(a), math.sin(a)
            fur = abs(noise(c * 6 + seed, s * 6, x * .008)) + .6 * abs(noise(c * 15, s * 15 + seed, x * .03))
            r = radius * (1 + .08 * noise(x * .004, seed) + .05 * noise(c * 1.5, s * 1.5, x * .006)) + 9 * (fur - .3)
            row.append(((x, r * c, r * s), (a / TAU, x / 1000)))
        rows.append(row)
    return Mesh().grid(rows)


def stump(seed, radius=150, height=190):
    rows = []
    for j in range(46):
        t = j / 32
        row = []
        for i in range(161):
            a = TAU * (i % 160) / 160
            c, s = math.cos(a), math.sin(a)
            if t <= 1:
                z = -40 + (height + 40) * t
                flare = 1 + .35 * math.exp(-max(0, z) / 70) * (1 + .6 * noise(c * 2.2 + seed, s * 2.2))
                r = radius * flare + 10 * (abs(noise(c * 7, s * 7, z * .02)) + .5 * abs(noise(c * 17, s * 17, z * .05)) - .3)
            else:
                q = 1 - (t - 1) / (13 / 32)
                r = max(0, radius * q * (1 + .02 * noise(c * 5, s * 5)))
                z = height + 5 * noise(c * q * 3, s * q * 3, seed) + 6 * max(0, noise(c * 9, s * 9)) * (q > .85)
            row.append(((r * c, r * s, z), (a / TAU, t)))
        rows.append(row)
    return Mesh().grid(rows)


def twig(seed, length=170):
    rng = random.Random(seed)
    m = Mesh()
    p, d, path = [0, 0, 3], [1, 0, 0], []
    for i in range(11):
        path.append(tuple(p))
        d = [d[0], d[1] + rng.uniform(-.16, .16), d[2] + rng.uniform(-.08, .08)]
        p = [c + e * length / 10 for c, e in zip(p, d)]
    m.add(tube(path, [2.7 - .18 * i for i in range(11)], 8))
    for k in (3, 6, 8):
        q, s = path[k], rng.choice((-1, 1))
        m.add(tube([q, (q[0] + 14, q[1] + s * 12, q[2] + 4), (q[0] + 34, q[1] + s * 20, q[2] + rng.uniform(-2, 12))], [1.2, .9, .4], 6))
    return m


# ---------------------------------------------------------------- pictures for leaves
def leaf_picture(kind, tint, seed, w=360, h=240):
    """RGB bytes of a leaf: veins, mottling, dark spots.  uv as in leaf()."""
    rng = random.Random(seed)
    spots = [(rng.random(), rng.gauss(.5, .16), rng.uniform(.006, .035)) for _ in range(16)]
    out = bytearray()
    step = {'beech': .105, 'birch': .13, 'oak': .155}[kind]
    for j in range(h):
        v = (j + .5) / h
        y = (v - .5) / 1.35
        for i in range(w):
            x = (i + .5) / w
            k = 1 + .22 * fractal(x * 5 + seed, y * 7, seed, 3) + .09 * noise(x * 60, y * 80, seed)
            t = x - abs(y) * (.95 if kind != 'oak' else 1.1)
            side = abs((t / step) - round(t / step)) * step
            vein = max(0, 1 - side / .007) * .55 + max(0, 1 - abs(y) / .011) * .95
            shade = max(0, 1 - side / .03) * .16
            edge = max(0, abs(y) * 3.4 - .55) * .35
            for sx, sy, sr in spots:
                d = ((x - sx) ** 2 + ((v - sy) / 1.35) ** 2) ** .5
                if d < sr * 2:
                    k *= .5 + .5 * min(1, (d / sr) ** 2 * .6)
            k = k * (1 - shade - edge * .5)
            warm = .06 * noise(x * 3 + seed * 2, y * 4)
            for c in range(3):
                base = tint[c] * k * (1 + (warm if c == 0 else -warm * .6 if c == 2 else 0))
                base = base + vein * (.10 + .55 * tint[c] * .6)
                out.append(max(0, min(255, int(255 * base))))
    return w, h, bytes(out)
