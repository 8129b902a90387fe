"""The invented fruit bodies.  None of them is meant as a portrait of a species.

A specimen is a list of (part id, surface name, mesh) in its own frame: z up,
soil level at z = 0, the tip of the base below it.  A section is the half
y >= 0 with its cut face on the plane y = 0.
"""
import math
import random

from shapes import (Mesh, TAU, along, ball, chain, curve, fractal, move, noise,
                    place, revolve, scale, tube, turn)


class Specimen:
    def __init__(self, name):
        self.name = name
        self.parts = []
        self.sizes = {}      # part id -> true size in mm, as words for the table

    def add(self, part, surface, mesh):
        self.parts.append((part, surface, mesh))
        return self

    def warp(self, fn, only=None):
        for part, _, mesh in self.parts:
            if only is None or part in only:
                mesh.warp(fn)


def _cap_frame(stem_h, tilt, tilt_dir):
    return chain(move(0, 0, -stem_h), turn('z', -tilt_dir), turn('y', tilt),
                 turn('z', tilt_dir), move(0, 0, stem_h))


def gilled(name, cap_r=40, cap_top=((0, 1), (.5, .86), (.85, .45), (1, 0)), cap_h=22,
           stem_h=80, stem=((-25, 4), (-18, 9), (0, 8), (80, 6)), base_z=5,
           gill_depth=7, gills=110, attach='adnate', flesh=7,
           skin='T_CapOlive', gill='T_GillWhite', stalk='T_StemWhite', foot=None,
           ring=None, bag=None, flakes=0, flake_surface='T_Veil', pores=None,
           soil=None, section=False, bend=6, tilt=6, tilt_dir=40, wavy=.05, seed=1,
           cut_at=None, hollow=0, groove=0):
    rng = random.Random(seed)
    sp = Specimen(name)
    R = cap_r
    a0, a1 = (0, math.pi) if section else (0, TAU)
    nseg = 64 if section else 128

    # The cap: top line, underside of the flesh, free edge of the gills.
    top = [(R * x, stem_h - 2 + cap_h * z) for x, z in curve(cap_top, 40)]
    r_stem = along(stem, stem_h)

    def z_top(r):
        return along(top, r)

    def z_flesh(r):
        x = min(max(r / R, 0), 1)
        return z_top(r) - flesh * (1 - x) ** .7 - 1.0

    def depth(r):
        x = min(max((r - r_stem) / (R - r_stem), 0), 1)
        d = gill_depth * 1.25 * (1 - x) ** .8 * (.62 + .38 * math.sin(math.pi * min(1, x * 1.2 + .1)))
        if attach == 'free':
            d *= min(1, max(0, (r - r_stem - .8) / 3.5)) ** .5
        elif attach == 'notched':
            d *= .25 + .75 * min(1, max(0, (r - r_stem) / 5)) ** .7
        elif attach == 'decurrent':
            d += max(0, 1 - (r - r_stem) / (R * .45)) ** 2 * gill_depth * 1.5
        return max(d, .25)

    def wave(a, v):
        return 1 + wavy * .6 * fractal(math.cos(a) * 1.3 + seed, math.sin(a) * 1.3, v)

    def cap_warp(p):
        r = math.hypot(p[0], p[1])
        x = min(r / R, 1.1)
        a = math.atan2(p[1], p[0])
        k = 1 + wavy * .5 * x * x * fractal(math.cos(a) * 1.5 + seed, math.sin(a) * 1.5 + 3)
        dz = wavy * R * .9 * x ** 3 * noise(math.cos(a) * 1.9 + seed * 3, math.sin(a) * 1.9)
        return (p[0] * k, p[1] * k, p[2] + dz)

    lip = [(R, top[-1][1]), (R * 1.004, top[-1][1] - .7), (R * .99, top[-1][1] - 1.3), (R * .97, z_flesh(R * .97) - .1)]
    capm = revolve(top + lip[1:], nseg, a0, a1,
                   (lambda a, v: 1 + (groove * .012 * math.cos(a * groove * 10) * max(0, v - .6) if groove else 0)))
    capm.warp(cap_warp)
    cap_parts = [('cap', skin, capm)]
    under = Mesh()
    n = 26
    rs = [r_stem * .8 + (R * .985 - r_stem * .8) * i / n for i in range(n + 1)]
    if pores:
        _pores(under, rs, R, r_stem, z_flesh, depth, pores, section)
        under.warp(cap_warp)
        cap_parts.append(('pores', gill, under))
    else:
        under.add(revolve([(r, z_flesh(r) - .15) for r in rs], nseg, a0, a1))
        blade = 14
        for i in range(gills):
            for kind, inner in ((0, 0.0), (1, .55), (2, .78), (2, .8)):
                frac = (i + (0, .5, .25, .75)[0 if kind == 0 else (1 if kind == 1 else (2 if inner < .79 else 3))]) / gills
                a = a0 + (a1 - a0) * frac
                if section and (a < .02 or a > math.pi - .02):
                    continue
                start = r_stem * .9 + (R - r_stem) * max(0, inner + rng.uniform(-.06, .06) if kind else 0)
                side, rows = rng.uniform(-.5, .5), []
                for j in range(blade + 1):
                    r = start + (R * .985 - start) * j / blade
                    zf = z_flesh(r)
                    d = depth(r) * (1 if kind == 0 else min(1, j / 4) * (.86 if kind == 1 else .7))
                    sway = (.35 * noise(r * .16 + i * 7.3, frac * 50) + side * .3) / max(r, 6)
                    row = []
                    for q in (0, .5, 1):
                        t = a + sway * (.35 + .65 * q)
                        row.append(((r * math.cos(t), r * math.sin(t), zf - d * q), (r / R, q)))
                    rows.append(row)
                under.grid(rows)
        under.warp(cap_warp)
        cap_parts.append(('gills', gill, under))

    if flakes:
        fl = Mesh()
        for _ in range(flakes):
            x = math.sqrt(rng.uniform(.0, .9)) * .95
            a = rng.uniform(a0, a1)
            s = R * rng.uniform(.028, .075 if flakes > 40 else .11) * (1.2 - .6 * x)
            cx, cy = x * R * math.cos(a), x * R * math.sin(a)
            rows = []
            for ring_i in range(4):
                row = []
                for k in range(19):
                    t = TAU * k / 18
                    q = s * ring_i / 3 * (1 + .45 * fractal(math.cos(t) * 1.1 + cx, math.sin(t) * 1.1 + cy))
                    px, py = cx + q * math.cos(t), cy + q * math.sin(t)
                    if section and py < 0:
                        py = 0
                    r = min(math.hypot(px, py), R)
                    row.append(((px, py, z_top(r) + (.75, .8, .5, -.3)[ring_i] * min(1.6, s / 3)), (k / 10, ring_i / 3)))
                rows.append(row)
            fl.grid(rows)
        fl.warp(cap_warp)
        cap_parts.append(('cap', flake_surface, fl))

    if section:
        cut = Mesh()
        m = 90
        xs = [-R * .985 + 2 * R * .985 * i / m for i in range(m + 1)]
        cut.grid([[((x, -.02, z_top(abs(x)) - .4 + (z_flesh(abs(x)) - z_top(abs(x)) + .4) * q), (abs(x) / R, q))
                   for x in xs] for q in (0, .33, .66, 1)])
        cut.warp(cap_warp)
        cap_parts.append(('flesh', 'T_Flesh', cut))
        for sgn in (-1, 1):
            g = Mesh()
            rr = [r_stem * .97 + (R * .975 - r_stem * .97) * i / 40 for i in range(41)]
            g.grid([[((sgn * r, -.01, z_flesh(r) - depth(r) * q), (r / R, q)) for r in rr] for q in (0, .5, 1)])
            g.warp(cap_warp)
            cap_parts.append(('pores' if pores else 'gills', 'T_TubeCut' if pores else gill + 'Cut', g))

    frame = _cap_frame(stem_h, tilt, tilt_dir)
    for _, _, mesh in cap_parts:
        mesh.warp(lambda p: place(frame, p))
    for part in cap_parts:
        sp.add(*part)

    # The stem, in two meshes so that the base is a part of its own.
    zs = [z for z, _ in stem]
    z_low = zs[0] if cut_at is None else cut_at
    line = curve(stem, 60)
    # Up into the flesh of the cap, or there would be a hole round its top.
    z_up = z_flesh(r_stem) + 2

    def stem_r(z):
        return along(line, z)

    def stem_wave(a, v):
        return 1 + .05 * fractal(math.cos(a) * 1.2 + seed, math.sin(a) * 1.2, v * 5)

    def piece(z0, z1, k, close):
        prof = [(stem_r(z0 + (z1 - z0) * i / k), z0 + (z1 - z0) * i / k) for i in range(k + 1)]
        if close:
            rr = prof[0][0]
            prof = [(0, z0 - (.35 * rr if cut_at is None else .01)), (rr * .6, z0 - (.25 * rr if cut_at is None else .01))] + prof
        return revolve(prof, 32 if section else 56, a0, a1, stem_wave)
    if z_low < base_z:
        sp.add('stem_base', foot or stalk, piece(z_low, base_z, 26, True))
    sp.add('stem', stalk, piece(max(base_z, z_low), z_up, 36, z_low >= base_z))
    if cut_at is not None:
        # The knife's flat face, a little oblique.
        rr = stem_r(z_low)
        disc = revolve([(0, z_low - .1), (rr * .5, z_low - .1), (rr * .97, z_low - .05)], 40, a0, a1, stem_wave)
        sp.add('stem', 'T_Flesh', disc)
    if section:
        # Only up to the flesh of the cap, which goes on from there.
        for lo, hi, part in ((z_low, base_z, 'flesh'), (max(base_z, z_low), z_flesh(r_stem) + .2, 'flesh')):
            if hi <= lo:
                continue
            rows = []
            for i in range(31):
                z = lo + (hi - lo) * i / 30
                r = stem_r(z) * .985
                row = []
                for q in (-1, -.8, -.45, 0, .45, .8, 1):
                    dig = hollow * r * max(0, 1 - (abs(q) / .5) ** 2) * (1 if z > base_z + 4 else 0)
                    row.append(((q * r, -.03 + dig, z), (abs(q), (z - z_low) / (z_up - z_low))))
                rows.append(row)
            sp.add(part, 'T_FleshStem', Mesh().grid(rows))

    if ring:
        zr, wide, drop = ring['z'], ring.get('wide', 9), ring.get('drop', 14)
        rs0 = stem_r(zr)
        prof = curve(((rs0 * .95, zr + 1.2), (rs0 + wide * .35, zr + .6), (rs0 + wide * .75, zr - drop * .35),
                      (rs0 + wide * .95, zr - drop * .75), (rs0 + wide, zr - drop)), 22)
        folds = ring.get('folds', 11)

        def skirt(a, v):
            return 1 + v * (.10 * math.sin(a * folds + 2 * noise(a * 2)) + .10 * noise(math.cos(a) * 2 + seed, math.sin(a) * 2))
        m = revolve(prof, 160 if not section else 80, a0, a1, skirt)
        m.warp(lambda p: (p[0], p[1], p[2] + (1.6 * noise(math.atan2(p[1], p[0]) * 3, seed) * max(0, (zr - p[2]) / drop))))
        sp.add('ring', ring.get('surface', 'T_Ring'), m)

    if bag:
        # A loose bag with a torn rim, open at the top.
        zb, wide, rim = zs[0], bag.get('wide', 1.35), bag.get('rim', 8)
        rmax = max(r for z, r in line if z < base_z + 12)
        rm = rmax * wide
        outer = curve(((.1, zb - 5), (rm * .62, zb - 3), (rm * .98, zb + 8), (rm * .98, zb + 17),
                       (rm * .86, (zb + 17 + rim) / 2 + 3), (rm * .98, rim)), 34)

        def torn(a, v):
            return 1 + .07 * fractal(math.cos(a) * 2 + seed, math.sin(a) * 2, v * 2) + .10 * max(0, v - .6) * math.sin(5 * a + seed)
        for inset, tex in ((0, bag.get('surface', 'T_Bag')), (.9, 'T_BagInside')):
            prof = [(max(.05, r - inset), z + (inset if r < rm * .6 else 0)) for r, z in outer]
            m = revolve(prof, 110 if not section else 56, a0, a1, torn)

            def rag(p):
                v = max(0, (p[2] - zb) / (rim - zb))
                a = math.atan2(p[1], p[0])
                return (p[0], p[1], p[2] + v ** 5 * (6.5 * fractal(math.cos(a) * 2.2 + seed * 2, math.sin(a) * 2.2) - 1.5))
            m.warp(rag)
            sp.add('stem_base', tex, m)
        if section:
            for sgn in (-1, 1):
                rows = []
                for r, z in outer[1:]:
                    k = torn(0 if sgn > 0 else math.pi, .5)
                    rows.append([((sgn * max(.05, r - 1.1) * k, -.04, z), (0, 0)), ((sgn * r * k, -.04, z), (1, 0))])
                sp.add('stem_base', 'T_Veil', Mesh().grid(rows))

    if soil:
        # Soil and roots on one side only: the other side is brushed clean.
        lumps, hairs = Mesh(), Mesh()
        variants = [ball(4, .5, k) for k in range(5)]
        arc0, arc1 = soil.get('arc', (math.pi * .55, math.pi * 1.35))
        z0, z1 = soil.get('z', (zs[0] - 3, base_z + 4))
        for _ in range(soil.get('n', 260)):
            a = arc0 + (arc1 - arc0) * (rng.random() * .5 + rng.random() * .5)
            z = rng.uniform(z0, z1)
            r = stem_r(z)
            if bag:
                r = max(r, along([(z2, r2) for r2, z2 in outer], z)) if z < bag.get('rim', 8) else r
            elif z < zs[0]:
                r *= .6
            s = rng.choice((.3, .4, .55, .7, .9, 1.2, 1.7)) * rng.uniform(.7, 1.3) * soil.get('size', 1)
            lumps.add(rng.choice(variants), chain(scale(s * rng.uniform(.7, 1.3), s, s * rng.uniform(.6, 1.2)), turn('z', rng.uniform(0, 360)),
                                                  turn('x', rng.uniform(0, 180)), move((r + s * .3) * math.cos(a), (r + s * .3) * math.sin(a), z)))
        for _ in range(soil.get('roots', 14)):
            a, z = rng.uniform(arc0, arc1), rng.uniform(z0, z0 + (z1 - z0) * .6)
            r = stem_r(z) * (1.2 if bag else 1)
            p = [r * math.cos(a), r * math.sin(a), z]
            d = [math.cos(a) * .6 + rng.uniform(-.6, .6), math.sin(a) * .6 + rng.uniform(-.6, .6), rng.uniform(-1, .2)]
            path = [tuple(p)]
            for _ in range(9):
                d = [c + rng.uniform(-.35, .35) for c in d]
                p = [c + e * 1.6 for c, e in zip(p, d)]
                path.append(tuple(p))
            hairs.add(tube(path, [.28 - .02 * k for k in range(10)], 5))
        sp.add('stem_base', 'T_SoilLump', lumps)
        if hairs.f:
            sp.add('stem_base', 'T_Root', hairs)

    h = stem_h

    def lean(p):
        t = max(0, p[2]) / h
        s = bend * t * t
        w = .8 * noise(p[2] * .03 + seed)
        return (p[0] + s * math.cos(seed * 2.1) + w, p[1] + s * math.sin(seed * 2.1) * (0 if section else 1), p[2])
    sp.warp(lean)
    sp.sizes = {'cap': 'diameter %d' % round(2 * R), 'stem': 'length %d, width %d' % (round(stem_h - zs[0]), round(2 * along(stem, stem_h * .5))),
                'stem_base': 'width %d' % round(2 * max(r for z, r in line if z < base_z + 12)),
                'gills': 'depth %d' % round(gill_depth), 'pores': 'depth %d' % round(gill_depth)}
    if ring:
        sp.sizes['ring'] = 'width %d' % round(2 * (stem_r(ring['z']) + ring.get('wide', 9)))
    sp.height, sp.low, sp.cap_r = stem_h + cap_h, zs[0], R
    return sp


def _pores(mesh, rs, R, r_stem, z_flesh, depth, pitch, section):
    """Six-sided tubes with mouths, packed over the underside."""
    dy = pitch * math.sqrt(3) / 2
    rows = int(R / dy) + 1

    def low(x, y):
        r = math.hypot(x, y)
        return z_flesh(min(r, R)) - depth(min(r, R))
    for j in range(-rows, rows + 1):
        for i in range(-rows, rows + 1):
            cx, cy = (i + (j % 2) * .5) * pitch, j * dy
            cx += .22 * pitch * noise(cx * .9, cy * .9)
            r = math.hypot(cx, cy)
            if r > R * .97 or r < r_stem * .8 or (section and cy < pitch * .6):
                continue
            ang = noise(cx * .5, cy * .5) * .4
            big = .86 + .12 * noise(cx, cy, 4)
            outer, mouth, deep = [], [], []
            for k in range(7):
                t = TAU * (k % 6) / 6 + math.pi / 6
                x, y = cx + pitch * .60 * math.cos(t), cy + pitch * .60 * math.sin(t)
                outer.append(((x, y, low(x, y) + .12), (0, 0)))
                t += ang * .3
                x, y = cx + pitch * .47 * big * math.cos(t), cy + pitch * .47 * big * math.sin(t)
                mouth.append(((x, y, low(x, y)), (0, .3)))
                deep.append(((cx + pitch * .3 * math.cos(t), cy + pitch * .3 * math.sin(t), low(cx, cy) + min(2.6, depth(min(r, R)) * .7)), (0, .8)))
            centre = [((cx, cy, low(cx, cy) + min(2.6, depth(min(r, R)) * .7)), (0, 1))] * 7
            mesh.grid([outer, mouth, deep, centre])


def bracket(name, wide=70, deep=55, thick=22, seed=1, section=False, skin='T_Bracket', pores='T_BracketPores'):
    """A shelf that leaves the wall x = 0 towards +x, its middle line at y = 0."""
    sp = Specimen(name)
    n, m = 90, 36
    lo = 0 if section else -math.pi / 2

    def edge(a):
        c, s = math.cos(a), math.sin(a)
        return 1 / math.sqrt((c / deep) ** 2 + (s / wide) ** 2) * (1 + .07 * fractal(a * 1.6 + seed, seed))

    def top(v, a):
        zone = .9 * math.sin(v * 26 + 1.2 * noise(a * 2, seed)) * v
        return thick * (.75 * (1 - v ** 2.2)) + zone + 1.5 * noise(a * 3, v * 3)

    def low(v, a):
        return -thick * .5 * (1 - v ** 1.5) + 1.2 * noise(a * 2.5, v * 2, 3)

    def surf(fn, vs, shade):
        rows = []
        for v in vs:
            row = []
            for i in range(n + 1):
                a = lo + (math.pi / 2 - lo) * i / n
                r = edge(a) * v
                row.append(((r * math.cos(a), r * math.sin(a), fn(v, a)), (a / TAU, shade(v))))
            rows.append(row)
        return Mesh().grid(rows)
    vs = [i / m for i in range(m + 1)]
    sp.add('body', skin, surf(top, vs, lambda v: v))
    # A blunt pale growing edge joins the two sides.
    rim = []
    for k in range(9):
        t = math.pi * k / 8
        row = []
        for i in range(n + 1):
            a = lo + (math.pi / 2 - lo) * i / n
            z0, z1 = top(1, a), low(1, a)
            r = edge(a) + 2.4 * math.sin(t)
            row.append(((r * math.cos(a), r * math.sin(a), z0 + (z1 - z0) * (1 - math.cos(t)) / 2), (a / TAU, 1)))
        rim.append(row)
    sp.add('body', 'T_BracketEdge', Mesh().grid(rim))
    sp.add('pores', pores, surf(low, vs, lambda v: v))
    if section:
        rows = []
        for q in range(9):
            rows.append([((edge(0) * v, -.02, top(v, 0) + (low(v, 0) - top(v, 0)) * q / 8), (v, q / 8)) for v in vs])
        sp.add('flesh', 'T_BracketFlesh', Mesh().grid(rows))
    sp.sizes = {'body': 'width %d, depth %d' % (2 * wide if not section else wide, deep), 'pores': '3 per mm', 'flesh': 'thickness %d' % round(thick * 1.25)}
    sp.height, sp.low, sp.cap_r = thick, -thick, wide
    return sp


def cup(name, r=24, h=16, seed=1, outside='T_CupOut', inside='T_CupIn'):
    sp = Specimen(name)
    prof = curve(((.05, -5), (r * .12, -4), (r * .17, 1), (r * .55, h * .18), (r * .9, h * .55), (r * 1.02, h), (r * 1.08, h * 1.12)), 30)

    def wav(a, v):
        return 1 + .20 * v * fractal(math.cos(a) * 1.4 + seed * 5, math.sin(a) * 1.4, v) + .03 * v * math.sin(7 * a + seed)

    def lift(p):
        a, v = math.atan2(p[1], p[0]), max(0, p[2] / h)
        return (p[0], p[1], p[2] + h * .30 * v * v * noise(math.cos(a) * 1.6 + seed * 2, math.sin(a) * 1.6))
    sp.add('body', outside, revolve(prof, 100, radius=wav).warp(lift))
    inner = [(max(.01, q - 1.6 * (1 if z < h else .25)), z + (1.6 if z < h * .8 else .3)) for q, z in prof if z > .5]
    inner = [(0.01, inner[0][1] - .2)] + inner + [(prof[-1][0], prof[-1][1])]
    sp.add('fertile_surface', inside, revolve(inner, 100, radius=wav).warp(lift))
    sp.sizes = {'body': 'diameter %d, height %d' % (2 * r, h), 'fertile_surface': 'diameter %d' % (2 * r)}
    sp.height, sp.low, sp.cap_r = h, -4, r
    return sp


def coral(name, height=70, seed=1, surface='T_Coral', tip='T_CoralTip', foot=True):
    rng = random.Random(seed)
    sp = Specimen(name)
    body, tips = Mesh(), Mesh()

    def branch(p, d, r, length, level):
        path, radii = [p], [r]
        steps = 6
        for i in range(steps):
            d = [c + rng.uniform(-.14, .14) for c in d]
            d[2] += .10
            m = math.sqrt(sum(c * c for c in d))
            d = [c / m for c in d]
            p = tuple(a + b * length / steps for a, b in zip(p, d))
            path.append(p)
            radii.append(r * (1 - .22 * (i + 1) / steps))
        if level == 0:
            # The last stretch ends in a blunt point.
            radii[-1], radii[-2] = r * .12, r * .5
            tips.add(tube(path, radii, 8))
            return
        body.add(tube(path, radii, 10 if level < 3 else 14))
        n = rng.choice((2, 2, 3)) if level < 4 else 4
        ph = rng.uniform(0, TAU)
        for k in range(n):
            a = ph + TAU * k / n + rng.uniform(-.5, .5)
            s = rng.uniform(.42, .75)
            q = [d[0] + s * math.cos(a), d[1] + s * math.sin(a), d[2] * .9]
            branch(p, q, r * (.68 if n == 2 else .6), length * rng.uniform(.72, .95), level - 1)
    for k in range(5):
        a = TAU * k / 5 + rng.uniform(-.3, .3)
        branch((2.5 * math.cos(a), 2.5 * math.sin(a), 6), [.45 * math.cos(a), .45 * math.sin(a), 1], 4.2, height * .27, 4)
    sp.add('stem_base', 'T_CoralFoot', revolve(curve(((.1, -16), (4, -14), (7, -6), (9, 2), (8.4, 9), (5, 13)), 24), 48,
                                               radius=lambda a, v: 1 + .12 * fractal(math.cos(a) * 2, math.sin(a) * 2, v * 3)))
    sp.add('body', surface, body)
    sp.add('body', tip, tips)
    lo, hi = tips.bounds()
    k = height / hi[2]
    for part, _, mesh in sp.parts:
        if part == 'body':
            mesh.warp(lambda p: (p[0] * k, p[1] * k, 6 + (p[2] - 6) * k))
    sp.sizes = {'body': 'height %d, width %d' % (height, round((hi[0] - lo[0]) * k)), 'stem_base': 'width 18'}
    sp.height, sp.low, sp.cap_r = height, -16, (hi[0] - lo[0]) * k / 2
    return sp


def puffball(name, r=24, seed=1, cut=False, skin='T_Puff', warts=True, flesh='T_PuffFlesh'):
    rng = random.Random(seed)
    sp = Specimen(name)
    prof = curve(((.1, -14), (r * .30, -12), (r * .42, -4), (r * .62, r * .25), (r * .95, r * .8), (r, r * 1.15),
                  (r * .82, r * 1.7), (r * .4, r * 2.0), (.1, r * 2.06)), 48)
    a0, a1 = (0, math.pi) if cut else (0, TAU)

    def lump(a, z):
        # By height, so that the two meshes meet without a gap.
        return 1 + .05 * fractal(math.cos(a) * 1.5 + seed, math.sin(a) * 1.5, z / r * 1.4) + .03 * max(0, .5 - z / r) * math.sin(9 * a)

    def lumpy(p):
        k = lump(math.atan2(p[1], p[0]), p[2])
        return (p[0] * k, p[1] * k, p[2])
    split = min(range(len(prof)), key=lambda i: abs(prof[i][1] - 1))
    sp.add('stem_base', skin, revolve(prof[:split + 1], 90, a0, a1).warp(lumpy))
    sp.add('body', skin, revolve(prof[split:], 90, a0, a1).warp(lumpy))
    if warts:
        w = Mesh()
        cone = revolve([(0, 1.2), (.35, .7), (.8, 0)], 7)
        for _ in range(950):
            v = rng.uniform(.34, .99) ** .8
            i = min(int(v * 48), 46)
            (q0, z0), (q1, z1) = prof[i], prof[i + 1]
            t = v * 48 - i
            q, z = q0 + (q1 - q0) * t, z0 + (z1 - z0) * t
            a = rng.uniform(a0, a1)
            q *= lump(a, z)
            slope = math.degrees(math.atan2(q1 - q0, z1 - z0))
            s = rng.uniform(.35, .9) * (.6 + .5 * v)
            w.add(cone, chain(scale(s, s, s * 1.1), turn('y', 90 + slope), turn('z', math.degrees(a)), move(q * math.cos(a), q * math.sin(a), z)))
        sp.add('body', 'T_PuffWart', w)
    if cut:
        rows = []
        for q, z in prof:
            rows.append([((k * q * .985 * lump(0 if k > 0 else math.pi, z), -.03, z), (abs(k), (z + 14) / (2.06 * r + 14))) for k in (-1, -.93, -.6, 0, .6, .93, 1)])
        sp.add('flesh', flesh, Mesh().grid(rows))
    sp.sizes = {'body': 'diameter %d, height %d' % (2 * r, round(2.06 * r)), 'stem_base': 'width %d' % round(.84 * r), 'flesh': 'diameter %d' % (2 * r)}
    sp.height, sp.low, sp.cap_r = 2.06 * r, -14, r
    return sp


def egg(name, r=22, seed=1, cut=False):
    """An unopened egg; its section shows the outline of a small mushroom."""
    sp = Specimen(name)
    prof = curve(((.1, -r * .95), (r * .55, -r * .85), (r * .98, -r * .2), (r * .96, r * .45), (r * .62, r * 1.1), (.1, r * 1.36)), 44)
    a0, a1 = (0, math.pi) if cut else (0, TAU)

    def lump(a, z):
        return 1 + .05 * fractal(math.cos(a) * 1.5 + seed, math.sin(a) * 1.5, z / r * 1.2)

    def lumpy(p):
        k = lump(math.atan2(p[1], p[0]), p[2])
        return (p[0] * k, p[1] * k, p[2])
    split = min(range(len(prof)), key=lambda i: abs(prof[i][1] + r * .33))
    sp.add('stem_base', 'T_Bag', revolve(prof[:split + 1], 90, a0, a1).warp(lumpy))
    sp.add('body', 'T_Bag', revolve(prof[split:], 90, a0, a1).warp(lumpy))
    if cut:
        def face(points, y, tex):
            m = Mesh()
            m.grid([[((k * q * lump(0 if k > 0 else math.pi, z), y, z), (abs(k), 0)) for k in (-1, -.5, 0, .5, 1)] for q, z in points])
            sp.add('flesh', tex, m)
        face([(q * .985, z) for q, z in prof], -.03, 'T_Veil')
        face([(q * .90, z * .92) for q, z in prof], -.06, 'T_EggGel')
        cap = curve(((.1, r * 1.12), (r * .5, r * .9), (r * .74, r * .4), (r * .76, r * .0), (r * .70, -r * .15)), 26)
        face(cap, -.09, 'T_EggSkin')
        face([(max(.05, q - 1.3), z - 1.2) for q, z in cap], -.12, 'T_Flesh')
        for s in (-1, 1):
            m = Mesh()
            # Gills between stem and cap, filling the space under the flesh.
            m.grid([[((s * q, -.15, -r * .14 + t * (r * (.66 - .62 * (q / (r * .70)) ** 2) + r * .14)), (q / r * 14, 0)) for t in (0, .5, 1)]
                    for q in [r * (.23 + .41 * i / 16) for i in range(17)]])
            sp.add('flesh', 'T_EggGill', m)
        face(curve(((r * .20, r * .6), (r * .22, 0), (r * .30, -r * .4), (r * .36, -r * .62), (.1, -r * .80)), 20), -.18, 'T_FleshStem')
    sp.sizes = {'body': 'height %d, width %d' % (round(r * 2.31), 2 * r), 'flesh': 'width %d' % (2 * r), 'stem_base': 'width %d' % (2 * r)}
    sp.height, sp.low, sp.cap_r = r * 1.36, -r, r
    return sp
