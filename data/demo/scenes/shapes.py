"""Meshes, noise and small vector arithmetic for the demo's scene generator.

Only the standard library is used, so that the pictures can be rendered again
on any machine that has Python.  All lengths are millimetres and z points up.
"""
import math
import random

TAU = 2 * math.pi


# ---------------------------------------------------------------- noise
_rng = random.Random(20251004)
_table = list(range(256))
_rng.shuffle(_table)
_table = _table * 2
_value = [_rng.uniform(-1, 1) for _ in range(256)]


def _fade(t):
    return t * t * (3 - 2 * t)


def noise(x, y=0.0, z=0.0):
    """Smooth value noise, about -1..1."""
    xi, yi, zi = math.floor(x), math.floor(y), math.floor(z)
    u, v, w = _fade(x - xi), _fade(y - yi), _fade(z - zi)
    xi, yi, zi = int(xi) & 255, int(yi) & 255, int(zi) & 255
    t = _table

    def corner(i, j, k):
        return _value[t[t[t[(xi + i) & 255] + ((yi + j) & 255)] + ((zi + k) & 255)]]

    def lerp(a, b, s):
        return a + (b - a) * s
    lo = lerp(lerp(corner(0, 0, 0), corner(1, 0, 0), u),
              lerp(corner(0, 1, 0), corner(1, 1, 0), u), v)
    if w == 0:
        return lo
    hi = lerp(lerp(corner(0, 0, 1), corner(1, 0, 1), u),
              lerp(corner(0, 1, 1), corner(1, 1, 1), u), v)
    return lerp(lo, hi, w)


def fractal(x, y=0.0, z=0.0, octaves=3):
    total, size = 0.0, 1.0
    for _ in range(octaves):
        total += noise(x, y, z) * size
        x, y, z, size = x * 2.03 + 17, y * 2.03 + 5, z * 2.03 + 9, size * .5
    return total


# ---------------------------------------------------------------- transforms
# A transform is (rows of a 3x3 matrix, translation); points are columns.
IDENTITY = (((1, 0, 0), (0, 1, 0), (0, 0, 1)), (0, 0, 0))


def _apply3(m, p):
    return tuple(m[i][0] * p[0] + m[i][1] * p[1] + m[i][2] * p[2] for i in range(3))


def place(t, p):
    q = _apply3(t[0], p)
    return (q[0] + t[1][0], q[1] + t[1][1], q[2] + t[1][2])


def then(first, second):
    """The transform that does first, then second."""
    a, b = second[0], first[0]
    m = tuple(tuple(sum(a[i][k] * b[k][j] for k in range(3)) for j in range(3)) for i in range(3))
    return (m, place(second, first[1]))


def chain(*steps):
    t = IDENTITY
    for s in steps:
        t = then(t, s)
    return t


def move(x, y, z=0):
    return (IDENTITY[0], (x, y, z))


def scale(x, y=None, z=None):
    y = x if y is None else y
    z = x if z is None else z
    return (((x, 0, 0), (0, y, 0), (0, 0, z)), (0, 0, 0))


def turn(axis, degrees):
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    m = {'x': ((1, 0, 0), (0, c, -s), (0, s, c)),
         'y': ((c, 0, s), (0, 1, 0), (-s, 0, c)),
         'z': ((c, -s, 0), (s, c, 0), (0, 0, 1))}[axis]
    return (m, (0, 0, 0))


def pov_matrix(t):
    m, d = t
    return 'matrix<%s>' % ','.join('%.5g' % v for v in (
        m[0][0], m[1][0], m[2][0], m[0][1], m[1][1], m[2][1],
        m[0][2], m[1][2], m[2][2], d[0], d[1], d[2]))


# ---------------------------------------------------------------- curves
def curve(points, n):
    """n+1 points of a Catmull-Rom curve through the given ones (any dimension)."""
    pts = [points[0]] + list(points) + [points[-1]]
    spans = len(points) - 1
    out = []
    for i in range(n + 1):
        s = min(i / n * spans, spans - 1e-9)
        k, t = int(s), s - int(s)
        p0, p1, p2, p3 = pts[k:k + 4]
        out.append(tuple(
            .5 * (2 * b + (c - a) * t + (2 * a - 5 * b + 4 * c - d) * t * t
                  + (3 * b - a - 3 * c + d) * t ** 3)
            for a, b, c, d in zip(p0, p1, p2, p3)))
    return out


def along(points, x):
    """Linear look-up in a list of (x, y) sorted by x."""
    if x <= points[0][0]:
        return points[0][1]
    for (x0, y0), (x1, y1) in zip(points, points[1:]):
        if x <= x1:
            return y0 + (y1 - y0) * (x - x0) / ((x1 - x0) or 1e-9)
    return points[-1][1]


# ---------------------------------------------------------------- mesh
class Mesh:
    def __init__(self):
        self.v, self.uv, self.f = [], [], []

    def point(self, p, uv=(0, 0)):
        self.v.append(p)
        self.uv.append(uv)
        return len(self.v) - 1

    def grid(self, rows):
        """rows: list of rows of (point, uv); neighbours are joined by triangles."""
        idx = [[self.point(p, uv) for p, uv in row] for row in rows]
        for a, b in zip(idx, idx[1:]):
            for i in range(len(a) - 1):
                self.f.append((a[i], a[i + 1], b[i]))
                self.f.append((b[i], a[i + 1], b[i + 1]))
        return self

    def add(self, other, t=IDENTITY):
        n = len(self.v)
        self.v += [place(t, p) for p in other.v] if t is not IDENTITY else other.v
        self.uv += other.uv
        self.f += [(a + n, b + n, c + n) for a, b, c in other.f]
        return self

    def warp(self, fn):
        self.v = [fn(p) for p in self.v]
        return self

    def bounds(self):
        return (tuple(min(p[i] for p in self.v) for i in range(3)),
                tuple(max(p[i] for p in self.v) for i in range(3)))

    def normals(self):
        # Vertices at one place (the seam of a turned body) share a normal,
        # otherwise the seam shows as a line.
        key = [(round(p[0], 3), round(p[1], 3), round(p[2], 3)) for p in self.v]
        acc = {}
        for a, b, c in self.f:
            p, q, r = self.v[a], self.v[b], self.v[c]
            ux, uy, uz = q[0] - p[0], q[1] - p[1], q[2] - p[2]
            vx, vy, vz = r[0] - p[0], r[1] - p[1], r[2] - p[2]
            n = (uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx)
            for i in (a, b, c):
                s = acc.get(key[i])
                acc[key[i]] = n if s is None else (s[0] + n[0], s[1] + n[1], s[2] + n[2])
        out = []
        for k in key:
            n = acc.get(k, (0, 0, 1))
            d = math.sqrt(n[0] ** 2 + n[1] ** 2 + n[2] ** 2)
            out.append((n[0] / d, n[1] / d, n[2] / d) if d > 1e-12 else (0, 0, 1))
        return out

    def pov(self, name, smooth=True):
        if not self.f:
            raise ValueError('empty mesh ' + name)
        w = ['#declare %s = mesh2 {\nvertex_vectors{%d' % (name, len(self.v))]
        w += [',<%.4g,%.4g,%.4g>' % p if abs(p[0]) < 1000 else ',<%.1f,%.1f,%.1f>' % p for p in self.v]
        if smooth:
            w.append('}\nnormal_vectors{%d' % len(self.v))
            w += [',<%.3f,%.3f,%.3f>' % n for n in self.normals()]
        w.append('}\nuv_vectors{%d' % len(self.uv))
        w += [',<%.4f,%.4f>' % t for t in self.uv]
        w.append('}\nface_indices{%d' % len(self.f))
        w += [',<%d,%d,%d>' % t for t in self.f]
        w.append('}}\n')
        return '\n'.join(w)


def revolve(profile, n=96, start=0.0, end=TAU, radius=None):
    """Turns a profile of (r, z) about the z axis.

    radius(angle, v) may change the radius, for folds and wavy edges.
    u runs round, v along the profile by its length.
    """
    length = [0.0]
    for (r0, z0), (r1, z1) in zip(profile, profile[1:]):
        length.append(length[-1] + math.hypot(r1 - r0, z1 - z0))
    rows = []
    for (r, z), s in zip(profile, length):
        v = s / (length[-1] or 1)
        row = []
        for i in range(n + 1):
            a = start + (end - start) * i / n
            q = r * (radius(a, v) if radius else 1)
            row.append(((q * math.cos(a), q * math.sin(a), z), ((a / TAU), v)))
        rows.append(row)
    return Mesh().grid(rows)


def tube(path, radii, n=10):
    """A tube round a path of points, with a given radius at each."""
    rows = []
    for i, p in enumerate(path):
        a, b = path[max(i - 1, 0)], path[min(i + 1, len(path) - 1)]
        d = [b[k] - a[k] for k in range(3)]
        m = math.sqrt(sum(x * x for x in d)) or 1
        d = [x / m for x in d]
        ref = (1, 0, 0) if abs(d[0]) < .8 else (0, 1, 0)
        u = (d[1] * ref[2] - d[2] * ref[1], d[2] * ref[0] - d[0] * ref[2], d[0] * ref[1] - d[1] * ref[0])
        m = math.sqrt(sum(x * x for x in u)) or 1
        u = [x / m for x in u]
        w = (d[1] * u[2] - d[2] * u[1], d[2] * u[0] - d[0] * u[2], d[0] * u[1] - d[1] * u[0])
        r = radii[i] if isinstance(radii, (list, tuple)) else radii
        row = []
        for k in range(n + 1):
            c, s = math.cos(TAU * k / n) * r, math.sin(TAU * k / n) * r
            row.append(((p[0] + u[0] * c + w[0] * s, p[1] + u[1] * c + w[1] * s,
                         p[2] + u[2] * c + w[2] * s), (k / n, i / (len(path) - 1))))
        rows.append(row)
    return Mesh().grid(rows)


def ball(n=10, rough=0.0, seed=0.0):
    """A lumpy ball of radius 1."""
    rows = []
    for j in range(n + 1):
        t = math.pi * j / n
        row = []
        for i in range(2 * n + 1):
            a = math.pi * i / n
            p = (math.sin(t) * math.cos(a), math.sin(t) * math.sin(a), math.cos(t))
            k = 1 + rough * fractal(p[0] * 1.7 + seed, p[1] * 1.7, p[2] * 1.7 + seed)
            row.append((tuple(k * c for c in p), (i / (2 * n), j / n)))
        rows.append(row)
    return Mesh().grid(rows)
