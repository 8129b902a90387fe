"""The invented foray: finds, photos, and how each picture is set up.

Everything here is made up: the group, the wood, the position (open ocean), the
cameras and the fungi.
"""
import datetime
import math

import wood
from scene import Scene, ground
from shapes import chain, move, scale, turn

GROUP = 'Larkfen Toadstool Walkers'
WOOD = 'Thornwick Hanger'
DAY = datetime.date(2025, 10, 4)
OFFSET = '+01:00'
# A point in mid-ocean: nobody can mistake it for a wood.
ORIGIN = (51.2, -30.5)

CAMERAS = {
    'H': dict(make='Hazelcam', model='Hazelcam F2', lens='Hazel Macro 60', focal=60, focal35=90, gps=True, wrong=0, name='HZL_%04d.jpg', first=1207),
    'L': dict(make='Linden', model='Linden Pocket 7', lens='Linden 26', focal=9, focal35=52, gps=False, wrong=0, name='IMG_%04d.JPG', first=412),
    # An older body whose owner never set the clock: 1 h 3 min fast.
    'A': dict(make='Alderfield', model='Alderfield 3', lens='Alder Close 50', focal=50, focal35=75, gps=True, wrong=63 * 60, name='ALD_%04d.jpg', first=88),
}

F = {}       # find number -> facts
PHOTOS = []


def find(number, form, shows, east, north, start, habitat, trees, substrate):
    F[number] = dict(form=form, shows=shows, east=east, north=north, start=start, habitat=habitat, trees=trees, substrate=substrate)


find('25-101', 'gilled_stem', 'every view is there: ring, bag-like base dug out whole and cleaned on one side, section, spore print', 0, 0, '10:05:10',
     'slope under old trees, deep leaf litter with moss', 'oak, beech', 'soil')
find('25-102', 'gilled_stem', 'ring and scaly cap, but the base of the stem was never photographed', 130, 40, '10:32:20', 'ride edge, leaf litter and grass', 'beech', 'soil')
find('25-103', 'gilled_stem', 'no ring; the base was cut off with a knife', 215, 120, '10:50:05', 'mossy bank under birch', 'birch', 'soil')
find('25-104', 'gilled_stem', 'no ring; the base is only seen still in the ground; one photo also shows the specimen of 25-103 (red herring); starts 6 minutes after the last photo of 25-103 but 90 m away',
     300, 150, '10:58:10', 'leaf litter on a flat', 'beech, birch', 'soil')
find('25-105', 'pored_stem', 'bolete with section; the photo of its base is out of focus', 410, 60, '11:20:30', 'path side, moss and oak leaves', 'oak', 'soil')
find('25-106', 'gilled_stem', 'rooting base dug out, but burnt out by the flash', 490, -70, '11:41:00', 'deep beech litter by a stump', 'beech', 'soil, perhaps over a buried root')
find('25-107', 'bracket', 'shelf on a fallen log: upper side, pores, cut section; taken with the camera whose clock is wrong', 380, -180, '11:58:40', 'fallen log in shade', 'beech', 'dead beech log')
find('25-108', 'cup', 'a group of cups on bare mossy soil', 240, -230, '12:20:15', 'mossy soil of an old cart track', 'birch', 'bare soil')
find('25-109', 'club_coral', 'whole body with its foot; the foot dug out and cleaned', 90, -250, '12:34:45', 'beech litter', 'beech, oak', 'soil')
find('25-110', 'puffball', 'uncut, and cut lengthwise: the flesh is the same all through', -60, -200, '12:52:00', 'grassy glade', 'birch', 'soil')
find('25-111', 'gilled_stem', 'a tuft on a stump, many specimens; bases fused, broken out with wood', -150, -90, '13:10:30', 'old stump, mossy', 'beech', 'rotten stump')
find('25-112', 'egg', 'unopened egg, uncut and cut: the section shows the outline of a small mushroom', -110, 60, '13:28:10', 'leaf litter and moss', 'oak', 'soil')

LAND, TALL = (2400, 1800), (1800, 2400)


def orbit(to, az, el, dist, fov=33, size=LAND, roll=0):
    a, e = math.radians(az), math.radians(el)
    return dict(at=(to[0] + dist * math.cos(e) * math.cos(a), to[1] + dist * math.cos(e) * math.sin(a), to[2] + dist * math.sin(e)),
                to=to, fov=fov if size == LAND else fov * .75, roll=roll, w=size[0], h=size[1], az=az)


def aim(right, dist, fov, least):
    """How far to the side the camera must look so that the slip is in the frame."""
    half = dist * math.tan(math.radians(fov / 2))
    return math.copysign(max(least * abs(right), abs(right) + 45 - .95 * half), right)


def slip(sc, number, az, right, near, tilt=12, turned=0, z=None):
    """The slip where the camera at azimuth az can read it."""
    a = math.radians(az)
    x, y = -math.sin(a) * right + math.cos(a) * near, math.cos(a) * right + math.sin(a) * near
    base = ground(x, y) + 12 if z is None else z
    sc.keep_clear.append((x, y, 44))
    sc.slip(number, x, y, az + 90 + turned, base + 27 * math.sin(math.radians(tilt)), tilt)


def photo(number, cam, after, views, az, build, shows, kind='in_ground', seed=None, size=LAND, focus=0, blur=8000, maxr=44, ev=0.0,
          settings=(), orientation=1, heic=False, stripped=False, also=(), letter='a', file=None, far=0):
    PHOTOS.append(dict(number=number, cam=cam, after=after, views=views, az=az, build=build, shows=shows, kind=kind, seed=seed or len(PHOTOS) + 1,
                       size=size, focus=focus, blur=blur, maxr=maxr, ev=ev, settings=settings, orientation=orientation, heic=heic, stripped=stripped,
                       also=also, file=file, far=far))


# ---------------------------------------------------------------- specimens
K = {
    '25-101': dict(cap_r=44, cap_h=25, stem_h=96, stem=((-30, 8), (-22, 13.5), (-10, 12.5), (6, 9.5), (40, 7.6), (96, 6.4)), base_z=12, attach='free', gills=120, gill_depth=12,
                   ring=dict(z=74, wide=10, drop=15), bag=dict(rim=9, wide=1.22), flakes=4, skin='T_CapOlive', stalk='T_StemOlive', gill='T_GillWhite', seed=3, tilt=7),
    '25-102': dict(cap_r=54, cap_h=27, cap_top=((0, 1.12), (.08, 1.1), (.2, .95), (.5, .8), (.85, .38), (1, 0)), stem_h=128,
                   stem=((-24, 6), (-16, 11.5), (-6, 10), (8, 6.5), (70, 5.4), (128, 4.8)), base_z=2, attach='free', gills=130, gill_depth=13, ring=dict(z=92, wide=8, drop=8, surface='T_RingTawny', folds=7),
                   flakes=190, flake_surface='T_ScaleBrown', skin='T_CapFawn', stalk='T_StemTawny', gill='T_GillCream', seed=8, tilt=5, tilt_dir=200),
    '25-103': dict(cap_r=41, cap_h=14, cap_top=((0, .72), (.2, .78), (.5, .95), (.8, .72), (1, 0)), stem_h=56, stem=((-16, 6.5), (-10, 8.6), (0, 9), (30, 8.2), (56, 8.6)), base_z=8,
                   gills=105, gill_depth=9, flesh=6, skin='T_CapRed', stalk='T_StemWhite', gill='T_GillWhite', seed=12, tilt=9, tilt_dir=250, wavy=.07),
    '25-104': dict(cap_r=37, cap_h=15, cap_top=((0, .8), (.2, .85), (.5, .92), (.8, .66), (1, 0)), stem_h=50, stem=((-18, 6), (-10, 8.6), (0, 9), (30, 8.4), (50, 8.8)), base_z=7,
                   gills=95, gill_depth=8.5, flesh=6, skin='T_CapGreen', stalk='T_StemWhite', gill='T_GillCream', seed=15, tilt=6, tilt_dir=300, wavy=.08),
    '25-105': dict(cap_r=48, cap_h=28, cap_top=((0, 1), (.4, .92), (.75, .62), (.95, .2), (1, 0)), stem_h=72, stem=((-24, 9), (-16, 16), (0, 18.5), (20, 16), (50, 12.5), (72, 12.5)), base_z=10,
                   gill_depth=13, flesh=15, pores=1.35, skin='T_CapBrown', stalk='T_StemBrown', gill='T_PoreYellow', attach='notched', seed=21, tilt=6, tilt_dir=60, bend=3),
    '25-106': dict(cap_r=40, cap_h=17, cap_top=((0, 1.15), (.1, 1.08), (.25, .9), (.55, .72), (.85, .4), (1, 0)), stem_h=105, stem=((-78, .9), (-52, 2.2), (-26, 5.5), (-8, 7.5), (20, 6.2), (105, 4.8)), base_z=5,
                   gills=70, gill_depth=12, flesh=6, attach='notched', skin='T_CapTawny', stalk='T_StemFawn', gill='T_GillWhite', seed=27, tilt=8, tilt_dir=120),
    '25-110w': dict(),
}


def body(st, number, **more):
    kw = dict(K[number])
    kw.update(more)
    return st.specimen('gilled', number, **kw)


def woods(sc, number, seed, view, **more):
    kinds = {
        '25-101': dict(leaves=('oak', 'beech', 'oak'), moss=.36, grass=.25, bark='T_BarkOak', ferns=9),
        '25-102': dict(leaves=('beech',), moss=.22, grass=.7, bark='T_BarkBeech', ferns=6, dry_fern=.6),
        '25-103': dict(leaves=('birch',), moss=.75, grass=.6, bark='T_BarkBirch', ferns=10, litter=.65, trunks=15),
        '25-104': dict(leaves=('beech', 'birch'), moss=.30, grass=.25, bark='T_BarkBeech', ferns=4),
        '25-105': dict(leaves=('oak',), moss=.6, grass=.5, bark='T_BarkOak', ferns=7, litter=.75),
        '25-106': dict(leaves=('beech',), moss=.10, grass=.08, bark='T_BarkBeech', ferns=3, litter=1.2),
        '25-107': dict(leaves=('beech',), moss=.35, grass=.2, bark='T_BarkBeech', ferns=12),
        '25-108': dict(leaves=('birch',), moss=.62, grass=.5, bark='T_BarkBirch', ferns=5, litter=.35, trunks=14, needles=.25),
        '25-109': dict(leaves=('beech', 'oak'), moss=.28, grass=.1, bark='T_BarkBeech', ferns=5),
        '25-110': dict(leaves=('birch',), moss=.55, grass=2.2, bark='T_BarkBirch', ferns=12, litter=.3, trunks=14),
        '25-111': dict(leaves=('beech',), moss=.45, grass=.2, bark='T_BarkBeech', ferns=10),
        '25-112': dict(leaves=('oak', 'beech'), moss=.50, grass=.2, bark='T_BarkOak', ferns=8),
    }[number]
    kinds.update(more)
    sc.forest(seed, view=view, **kinds)


# Round a cloth seen from above only the nearest litter shows.
BENCH = dict(near=330, litter=.45, far=False, ferns=0, grass=.1, twigs=3)


# ---------------------------------------------------------------- set-ups
def insitu(number, az=-70, el=7, dist=400, z=52, fov=33, second=None, size=LAND, slip_at=(98, -8), slip_tilt=62, sink=4, more=None, extra=()):
    def build(st):
        sc = Scene(st)
        sp = body(st, number)
        sc.standing(sp, number, 'a', 0, 0, 20, sink=sink)
        if second:
            for letter, x, y, kw in second:
                sc.standing(body(st, number, **kw), number, letter, x, y, 75, sink=sink + 2)
        for fn in extra:
            fn(sc)
        slip(sc, number, az, slip_at[0], slip_at[1], slip_tilt, -8)
        woods(sc, number, int(number[-3:]), az, **(more or {}))
        a, off = math.radians(az), slip_at[0] * .24 if size == TALL or dist < 260 else aim(slip_at[0], dist, fov, .24)
        return sc, orbit((-math.sin(a) * off, math.cos(a) * off, z), az, el, dist, fov, size)
    return build


def topview(number, az=-60, el=58, dist=380, z=90, fov=30, second=None, slip_at=(98, 6), rot=20):
    def build(st):
        sc = Scene(st)
        sc.standing(body(st, number), number, 'a', 0, 0, rot, sink=4)
        if second:
            for letter, x, y, kw in second:
                sc.standing(body(st, number, **kw), number, letter, x, y, 75, sink=6)
        slip(sc, number, az, slip_at[0], slip_at[1], 14, 6)
        woods(sc, number, int(number[-3:]), az)
        a = math.radians(az)
        return sc, orbit((-math.sin(a) * slip_at[0] * .36, math.cos(a) * slip_at[0] * .36, z * .8), az, el, dist, fov)
    return build


def underside(number, az=-80, el=48, dist=340, fov=32, tilt=14, also=None, size=LAND, cut_at=None, slip_at=(92, 6)):
    """Laid upside down on the litter, gills to the sky."""
    def build(st):
        sc = Scene(st)
        kw = {} if cut_at is None else dict(cut_at=cut_at)
        sp = body(st, number, **kw)
        sc.keep_clear.append((0, 0, sp.cap_r * .8))
        sc.upside(sp, number, 'a', 0, 0, 35, tilt, az + 180, z=ground(0, 0) + 9)
        x = slip_at[0] * .44 if dist < 200 else aim(slip_at[0], dist, fov, .44)
        if also:
            x = -14
            other, letter, okw = also
            o = body(st, other, **okw)
            sc.keep_clear.append((-96, 14, o.cap_r * .8))
            sc.upside(o, other, letter, -96, 14, 80, 20, az + 200, z=ground(-96, 14) + 8)
        slip(sc, number, az, slip_at[0], slip_at[1], 16, -5)
        woods(sc, number, int(number[-3:]) + 500, az, grass=.12)
        return sc, orbit((x, 0, 22), az, el, dist, fov, size)
    return build


def on_cloth(number, what='base', az=-90, el=64, dist=395, fov=33, close=None, size=LAND, spread=0, cut_at=None, soil=True, both=False, cloth='T_Cloth', slip_xy=(58, -52), roll=128):
    """The specimen lies on a cloth, the slip beside it."""
    def build(st):
        sc = Scene(st)
        z = sc.mat(0, 0, 330, 250, 4, cloth)
        kw = {}
        if cut_at is not None:
            kw['cut_at'] = cut_at
        if what == 'section':
            sp = body(st, number, section=True, **kw)
            sc.lying(sp, number, 'a', 0, 26, 3, -90, z=z)
        else:
            if soil:
                kw['soil'] = dict(n=1100, roots=24)
            sp = body(st, number, **kw)
            sc.lying(sp, number, 'a', -4, 26, 8, roll, z=z)
        sc.slip(number, slip_xy[0], slip_xy[1], -4, z + 2.2)
        woods(sc, number, int(number[-3:]) + 300, az, **BENCH)
        to = (0, 6, z + 12)
        if close:
            to = (close[0], close[1], z + close[2])
        return sc, orbit(to, az, el, dist, fov, size)
    return build


def habitat(number, az=-70, el=11, dist=1500, fov=46, second=None, thing=None, z=180, more=None):
    def build(st):
        sc = Scene(st)
        if thing:
            thing(sc, st, number)
        else:
            sc.standing(body(st, number), number, 'a', 0, 0, 20, sink=4)
            for letter, x, y, kw in second or ():
                sc.standing(body(st, number, **kw), number, letter, x, y, 75, sink=6)
        slip(sc, number, az, 95, 40, 40, -8)
        kw = dict(near_trunk=900, trunks=14)
        kw.update(more or {})
        woods(sc, number, int(number[-3:]), az, **kw)
        return sc, orbit((0, 0, z), az, el, dist, fov)
    return build


def spore_print(number, dark=True):
    def build(st):
        sc = Scene(st)
        z = sc.mat(0, 0, 330, 250, 3, 'T_Cloth')
        sp = body(st, number)
        sc.solid('box { <-75, -50, 0>, <0, 55, .3> rotate z*5 translate <-18, 12, %.2f> #if (Data) DataTex(0) #else texture { T_BlackPaper } #end }' % (z + 1.6))
        sc.solid('box { <0, -50, 0>, <75, 55, .3> rotate z*5 translate <-18, 12, %.2f> #if (Data) DataTex(0) #else texture { T_Card } #end }' % (z + 1.6))
        ident = sc.ident(number, 'a', sp, 'spore_print')
        sc.solid('''difference {
  cylinder { <0, 0, 0>, <0, 0, .06>, %d }
  cylinder { <0, 0, -1>, <0, 0, 1>, 7 }
  #if (Data) DataTex(%d) #else texture {
    pigment { radial frequency 118 triangle_wave rotate x*90 warp { turbulence .03 }
      color_map { [0 rgb <.80,.78,.70>] [.55 rgb <.72,.70,.62>] [.8 rgbt <.7,.68,.6,.55>] [1 rgbt <.7,.68,.6,.92>] } } finish { F_Dull } } #end
  rotate z*5 translate <-18, 14, %.2f> }''' % (sp.cap_r - 3, ident, z + 1.95))
        sc.lying(sp, number, 'a', 96, 40, 80, 90, z=z)
        sc.slip(number, 62, -60, -4, z + 2.2)
        woods(sc, number, int(number[-3:]) + 300, -90, **BENCH)
        return sc, orbit((2, 0, z), -90, 70, 440, 33)
    return build


# -- forms without a cap
def bracket_log(sc, st, number, letters='abc'):
    log = st.mesh(wood.log, 5)
    sp0 = st.specimen('bracket', number, seed=4)
    sc.put(log, 'T_LogBark', chain(turn('z', 8), move(0, 95, 84)), sc.ident(number, 'a', sp0, 'substrate'))
    for letter, x, dz, s, seed in (('a', 0, 18, .82, 4), ('b', -105, 42, .62, 7), ('c', 96, -8, .55, 9)):
        sp = st.specimen('bracket', number, seed=seed)
        sc.fruit(sp, chain(scale(s), turn('z', -82 + x * .05), move(x, 95 + x * .14 - math.sqrt(max(0, 86 ** 2 - dz ** 2)) + 3, 84 + dz)), number, letter)
    for x in range(-700, 701, 34):
        sc.keep_clear.append((x, 95 + x * .14, 80))


def bracket_photo(az, el, dist, z=92, fov=33, slip_at=(150, 35), tilt=58, x=0, pin=None):
    def build(st):
        sc = Scene(st)
        bracket_log(sc, st, '25-107')
        # It leans on the log, or is pinned to the bark.
        slip(sc, '25-107', -82, slip_at[0], slip_at[1], tilt, -4, z=pin)
        tiles = [st.mesh(wood.moss_tile, k) for k in range(4)]
        import random
        rng = random.Random(5)
        for _ in range(260):
            # Moss on top of the log only: it wants the rain.
            u, a = rng.uniform(-560, 560), rng.gauss(78, 26)
            from shapes import noise
            if noise(u * .012, a * .04, 7) < -.12:
                continue
            ca, sa = math.cos(math.radians(a)), math.sin(math.radians(a))
            if a < 62 and any(abs(u - q) < w for q, w in ((0, 74), (-105, 60), (96, 55))):
                continue
            s = rng.uniform(.7, 1.1)
            sc.put(rng.choice(tiles), rng.choice(('T_Moss1', 'T_Moss2')), chain(scale(s), turn('z', rng.uniform(0, 360)), turn('x', 90 - a), move(u, 95 - 92 * ca + u * .14, 84 + 92 * sa)))
        woods(sc, '25-107', 107, az)
        return sc, orbit((x, 20, z), az, el, dist, fov)
    return build


def bracket_bench(section):
    def build(st):
        sc = Scene(st)
        z = sc.mat(0, 0, 330, 250, 3, 'T_Cloth')
        if section:
            sp = st.specimen('bracket', '25-107', seed=4, section=True)
            sc.fruit(sp, chain(scale(1.0), turn('x', -72), turn('z', 4), move(-74, 6, z + 24)), '25-107', 'a')
            sc.fruit(sp, chain(scale(1.0), turn('z', 150), turn('x', 8), move(66, 48, z + 16)), '25-107', 'a')
        else:
            sp = st.specimen('bracket', '25-107', seed=4)
            sc.fruit(sp, chain(scale(1.0), turn('x', 180), turn('z', -84), turn('x', -8), move(-18, 56, z + 22)), '25-107', 'a')
        sc.slip('25-107', 48, -50, -4, z + 2.2)
        woods(sc, '25-107', 407, -90, **BENCH)
        return sc, orbit((0, -4, z + 10), -90, 66, 385, 33)
    return build


CUPS = (('a', 0, 0, 27, 17, 1), ('b', -46, 16, 19, 15, 2), ('c', 34, 38, 22, 16, 3), ('d', 45, -22, 13, 12, 4), ('e', -26, 52, 16, 13, 5))


def cups(sc, st, number):
    for letter, x, y, r, h, seed in CUPS:
        sp = st.specimen('cup', number, r=r, h=h, seed=seed)
        sc.fruit(sp, chain(turn('x', (seed * 7) % 11 - 5), turn('y', (seed * 5) % 9 - 4), move(x, y, ground(x, y) + 5)), number, letter)
        sc.keep_clear.append((x, y, r * .55))


def thing_photo(number, thing, az, el, dist, z, fov=33, slip_at=(100, 0), tilt=40, size=LAND, more=None, x=24, y=0, pin=None):
    def build(st):
        sc = Scene(st)
        thing(sc, st, number)
        slip(sc, number, az, slip_at[0], slip_at[1], tilt, -6, z=pin)
        woods(sc, number, int(number[-3:]), az, **(more or {}))
        across = x if size == TALL or dist > 600 else max(x, aim(slip_at[0], dist, fov, 0))
        return sc, orbit((across, y, z), az, el, dist, fov, size)
    return build


def bench(number, lay, to=(0, 2, 12), dist=430, el=64, fov=33, size=LAND, slip_xy=(50, -52)):
    dist = max(dist, 368)

    def build(st):
        sc = Scene(st)
        z = sc.mat(0, 0, 330, 250, 4, 'T_Cloth')
        lay(sc, st, z)
        sc.slip(number, slip_xy[0], slip_xy[1], -4, z + 2.2)
        woods(sc, number, int(number[-3:]) + 300, -90, **BENCH)
        return sc, orbit((to[0], to[1], z + to[2]), -90, el, dist, fov, size)
    return build


def cups_bench(sc, st, z):
    a = st.specimen('cup', '25-108', r=27, h=17, seed=1)
    b = st.specimen('cup', '25-108', r=19, h=15, seed=2)
    sc.upside(a, '25-108', 'a', -52, 18, 20, 26, -90, z=z)
    sc.fruit(b, chain(turn('x', 28), move(30, 22, z + 8)), '25-108', 'b')


def corals(sc, st, number):
    sp = st.specimen('coral', number, height=78, seed=5)
    sc.fruit(sp, move(0, 0, ground(0, 0) + 1), number, 'a')
    sc.keep_clear.append((0, 0, 14))
    s2 = st.specimen('coral', number, height=46, seed=9)
    sc.fruit(s2, move(-82, 34, ground(-82, 34) + 1), number, 'b')
    sc.keep_clear.append((-82, 34, 10))


def coral_bench(sc, st, z):
    sp = st.specimen('coral', '25-109', height=78, seed=5)
    sc.lying(sp, '25-109', 'a', -12, 28, 8, 40, z=z)
    balls(sc, st, z, -56, 18)


def balls(sc, st, z, x, y, n=40):
    """Crumbs of soil that fell off."""
    import random
    from shapes import ball
    rng = random.Random(n)
    m = st.mesh(ball, 4, .5, 2)
    for _ in range(n):
        s = rng.choice((.5, .8, 1.2, 2))
        sc.put(m, 'T_SoilLump', chain(scale(s), turn('x', rng.uniform(0, 90)), move(rng.gauss(x, 26), rng.gauss(y, 14), z + s * .4)))


PUFFS = (('a', 0, 0, 25, 1), ('b', -58, 30, 19, 2), ('c', 52, 36, 21, 3))


def puffs(sc, st, number):
    for letter, x, y, r, seed in PUFFS:
        sc.fruit(st.specimen('puffball', number, r=r, seed=seed), chain(turn('x', seed * 3 - 6), move(x, y, ground(x, y) - 1)), number, letter)
        sc.keep_clear.append((x, y, r * .6))


def puff_bench(sc, st, z):
    whole = st.specimen('puffball', '25-110', r=19, seed=2)
    half = st.specimen('puffball', '25-110', r=25, seed=1, cut=True)
    sc.fruit(half, chain(turn('x', -78), turn('z', 12), move(-62, 0, z + 22)), '25-110', 'a')
    sc.fruit(half, chain(turn('x', -80), turn('z', -35), move(8, 20, z + 22)), '25-110', 'a')
    sc.lying(whole, '25-110', 'b', 88, 34, 60, 0, z=z)


def puff_base(sc, st, z):
    sc.lying(st.specimen('puffball', '25-110', r=19, seed=2), '25-110', 'b', -50, 24, 30, 0, z=z)
    sc.lying(st.specimen('puffball', '25-110', r=21, seed=3), '25-110', 'c', 30, 30, -10, 60, z=z)
    balls(sc, st, z, -40, 14, 60)


TUFT = [('a', 0, -16, 22, 74, 0, 4), ('b', -26, -8, 17, 62, 14, 250), ('c', 25, -10, 18, 66, 13, 290), ('d', -11, 14, 20, 88, 5, 120), ('e', 16, 14, 19, 92, 6, 60),
        ('f', -40, 8, 14, 50, 24, 190), ('g', 42, 6, 15, 54, 22, 350), ('h', 2, -32, 13, 46, 22, 270), ('i', -2, 34, 17, 80, 16, 90)]


def tuft_body(st, i, **more):
    letter, x, y, r, h, lean, to = TUFT[i]
    kw = dict(cap_r=r, cap_h=r * .62, cap_top=((0, 1), (.15, .97), (.5, .8), (.85, .4), (1, 0)), stem_h=h, stem=((-20, 3.4), (-8, 3.6), (0, 3.4), (h * .5, 3.0), (h, 2.8)), base_z=14,
              gills=46, gill_depth=5, flesh=2.4, skin='T_CapHoney', stalk='T_StemHoney', foot='T_StemDark', gill='T_GillHoney', seed=40 + i, tilt=6, tilt_dir=(to + 40) % 360,
              bend=9, ring=dict(z=h * .74, wide=2.2, drop=2.0, folds=5, surface='T_RingTawny') if r > 15 else None)
    kw.update(more)
    return st.specimen('gilled', '25-111', **kw), letter, x, y, lean, to


def tuft_stump(sc, st, number):
    sp, *_ = tuft_body(st, 0)
    sc.put(st.mesh(wood.stump, 4), 'T_StumpWood', move(0, 118, 0), sc.ident(number, 'a', sp, 'substrate'))
    for x, y, r in ((0, 118, 175),):
        sc.keep_clear.append((x, y, r))
    for i in range(len(TUFT)):
        sp, letter, x, y, lean, to = tuft_body(st, i)
        # They leave the side of the stump in a bunch and lean out to the light.
        t = chain(turn('z', i * 40), turn('z', -to), turn('y', lean), turn('z', to), move(x * .48, y * .42, 0), turn('x', 20), move(0, -42, 62))
        sc.fruit(sp, t, number, letter)
    import random
    from shapes import noise
    rng = random.Random(11)
    tiles = [st.mesh(wood.moss_tile, k) for k in range(4)]
    for _ in range(150):
        a, zz = rng.uniform(150, 390), rng.uniform(10, 190)
        if noise(a * .02, zz * .014, 3) < .02 or (abs(a - 270) < 26 and zz < 120):
            continue
        r = 150 * (1 + .3 * math.exp(-zz / 70))
        ca, sa = math.cos(math.radians(a)), math.sin(math.radians(a))
        s = rng.uniform(.6, .95)
        sc.put(rng.choice(tiles), rng.choice(('T_Moss1', 'T_Moss2')), chain(scale(s), turn('y', 72), turn('z', a), move(r * ca, 118 + r * sa, zz)))


def tuft_bench(sc, st, z):
    for i in (0, 1, 2, 3):
        sp, letter, x, y, lean, to = tuft_body(st, i, soil=dict(n=60, roots=4, size=.6, arc=(0, 6.2), z=(-24, -8)))
        t = chain(turn('z', i * 60), turn('z', -to), turn('y', lean * .6 + 3), turn('z', to), move(x * .2, y * .16, 0), turn('y', 84), turn('z', 6), move(-44, 26, z + 20))
        sc.fruit(sp, t, '25-111', letter)
    sp, letter, *_ = tuft_body(st, 4)
    sc.upside(sp, '25-111', letter, 86, 62, 10, 34, -90, z=z)


def eggs(sc, st, number):
    sc.fruit(st.specimen('egg', number, r=23, seed=2), move(0, 0, ground(0, 0) + 13), number, 'a')
    sc.keep_clear.append((0, 0, 20))
    sc.fruit(st.specimen('egg', number, r=19, seed=5), chain(turn('x', 12), move(-54, 26, ground(-54, 26) + 8)), number, 'b')
    sc.keep_clear.append((-54, 26, 14))


def egg_bench(sc, st, z):
    half = st.specimen('egg', '25-112', r=23, seed=2, cut=True)
    sc.fruit(half, chain(turn('x', -80), turn('z', 8), move(-64, 14, z + 20)), '25-112', 'a')
    sc.fruit(half, chain(turn('x', -78), turn('z', -24), move(6, 18, z + 20)), '25-112', 'a')
    sc.lying(st.specimen('egg', '25-112', r=19, seed=5), '25-112', 'b', 76, 36, 40, 0, z=z)
    balls(sc, st, z, -30, -6, 50)


# ---------------------------------------------------------------- the photos
YOUNG101 = [('b', -92, 46, dict(cap_r=25, cap_h=25, stem_h=58, cap_top=((0, 1), (.5, .9), (.85, .5), (1, 0)), ring=None, seed=5, stem=((-26, 8), (-18, 12), (-6, 11), (20, 8.5), (58, 7)), gills=80))]
P = '25-101'
photo(P, 'H', 0, 'v_habitat', -66, habitat(P, az=-66, second=YOUNG101, dist=1250, el=9), 'the place, with the oak behind', blur=26000, maxr=14)
photo(P, 'H', 55, 'v_insitu,v_slip,v_scale,v_ages', -70, insitu(P, az=-70, el=4, dist=430, z=56, second=YOUNG101), 'in place before touching it', focus=0)
photo(P, 'H', 40, 'v_top', -60, topview(P, second=YOUNG101), 'cap from above')
photo(P, 'H', 35, 'v_substrate', -120, insitu(P, az=-118, el=16, dist=250, z=18, fov=34, slip_at=(70, -30)), 'the foot in litter and moss, not yet lifted')
photo(P, 'H', 75, 'v_base,v_stem,v_slip,v_scale', -90, on_cloth(P), 'dug out whole, one side cleaned, soil left on the other', kind='cleaned', blur=6000)
photo(P, 'H', 30, 'v_base', -90, on_cloth(P, close=(-52, 20, 14), dist=205, el=58, fov=30), 'the bag at the base, close', kind='cleaned', blur=2600, maxr=20)
photo(P, 'L', 28, 'v_ring', -90, insitu(P, az=-96, el=-2, dist=210, z=72, fov=34, size=TALL, slip_at=(58, 4), slip_tilt=70), 'ring, close', size=TALL, orientation=6, blur=4200)
photo(P, 'L', 44, 'v_under,v_attach', -80, underside(P), 'gills from below; they do not reach the stem', kind='from_below')
photo(P, 'H', 66, 'v_section,v_attach', -90, on_cloth(P, 'section'), 'cut lengthwise', kind='cleaned', blur=6000)
photo(P, 'H', 88, 'v_print', -90, spore_print(P), 'pale spore print on black and white paper', kind='cleaned', blur=6000)

P = '25-102'
TWIN102 = [('b', 112, 60, dict(cap_r=34, cap_h=26, stem_h=92, seed=18, stem=((-22, 6), (-14, 10), (-4, 9), (8, 6), (50, 5), (92, 4.6)), ring=dict(z=66, wide=6, drop=6, surface='T_RingTawny', folds=7)))]
photo(P, 'H', 0, 'v_insitu,v_slip,v_scale', -75, insitu(P, az=-75, el=3, dist=500, z=74, second=TWIN102, slip_at=(-118, 0)), 'in place')
photo(P, 'H', 48, 'v_top,v_margin', -70, topview(P, az=-70, el=50, dist=430, z=110, slip_at=(112, 10)), 'cap with scales')
photo(P, 'H', 62, 'v_under,v_attach', -84, underside(P, az=-84, dist=390, slip_at=(112, 10)), 'gills', kind='from_below')
photo(P, 'H', 37, 'v_ring', -90, insitu(P, az=-100, el=2, dist=250, z=92, fov=34, size=TALL, slip_at=(60, -30), slip_tilt=72), 'ring; the base is out of the frame', size=TALL, orientation=8, blur=4500)

P = '25-103'
PAIR103 = [('b', -80, 44, dict(cap_r=28, seed=31, cap_h=16))]
photo(P, 'H', 0, 'v_insitu,v_slip,v_scale', -72, insitu(P, az=-72, el=10, dist=360, z=34, second=PAIR103), 'in place')
photo(P, 'H', 33, 'v_top', -60, topview(P, az=-64, el=55, dist=330, z=52, second=PAIR103), 'cap from above')
photo(P, 'H', 58, 'v_under,v_attach', -80, underside(P, cut_at=4), 'gills; the stem ends in a knife cut', kind='cut')
photo(P, 'H', 50, 'v_base', -90, on_cloth(P, cut_at=4, soil=False, dist=380, roll=150), 'the base was cut off: a flat face', kind='cut', blur=6000)

P = '25-104'
photo(P, 'H', 0, 'v_insitu,v_slip,v_scale', -78, insitu(P, az=-78, el=8, dist=340, z=30), 'in place')
photo(P, 'H', 41, 'v_base', -108, insitu(P, az=-108, el=12, dist=190, z=14, fov=32, slip_at=(62, -22), slip_tilt=55), 'the base is still in the ground', kind='in_ground', blur=4200)
photo(P, 'H', 70, 'v_under,v_attach', -80, underside(P, also=('25-103', 'a', dict(cut_at=4)), dist=400, cut_at=9), 'gills; cut high, the base stayed in the ground; to the left lies the red specimen of 25-103', kind='cut', also=('25-103',))
photo(P, 'H', 39, 'v_habitat', -78, habitat(P, az=-78, dist=1150), 'the place', orientation=3, blur=26000, maxr=14)

P = '25-105'
PAIR105 = [('b', 74, 52, dict(cap_r=31, cap_h=27, stem_h=50, seed=33, stem=((-22, 8), (-14, 14), (0, 17), (20, 14), (50, 11)), wavy=.04))]
photo(P, 'H', 0, 'v_insitu,v_slip,v_scale', -80, insitu(P, az=-80, el=6, dist=430, z=44, second=PAIR105, slip_at=(-108, -6)), 'in place')
photo(P, 'H', 52, 'v_under', -80, underside(P, dist=330), 'pores', kind='from_below')
photo(P, 'L', 31, 'v_under', -80, underside(P, dist=150, fov=30, el=60, slip_at=(97, 20)), 'pore mouths, close', kind='from_below', heic=True, blur=1800, maxr=14)
photo(P, 'H', 47, 'v_section,v_change', -90, on_cloth(P, 'section'), 'cut lengthwise', kind='cleaned', blur=6000)
photo(P, 'H', 36, 'v_base', -90, on_cloth(P, close=(-30, 20, 14), dist=240, el=58, fov=32), 'the base, out of focus', kind='cleaned', focus=-105, blur=15000, maxr=34)

P = '25-106'
photo(P, 'H', 0, 'v_insitu,v_slip,v_scale', -74, insitu(P, az=-74, el=5, dist=430, z=58), 'in place')
photo(P, 'H', 44, 'v_top', -66, topview(P, az=-66, dist=350, z=100), 'cap from above')
photo(P, 'H', 61, 'v_under,v_attach', -80, underside(P), 'gills', kind='from_below', stripped=True, file='share_0003.jpg')
photo(P, 'H', 49, 'v_base,v_stem', -90, on_cloth(P, dist=430), 'the root-like base, burnt out by flash', kind='cleaned', ev=3.1, settings=(('Flash', '4'),), blur=6000)

P = '25-107'
photo(P, 'A', 0, 'v_habitat,v_substrate', -82, bracket_photo(-96, 12, 900, z=110, fov=44, slip_at=(150, 40)), 'the log', blur=16000, maxr=16)
photo(P, 'A', 46, 'v_insitu,v_top,v_margin,v_slip,v_scale', -82, bracket_photo(-76, 24, 420, z=78, slip_at=(-66, 4), tilt=72, x=0, pin=14), 'upper side', blur=7000)
photo(P, 'A', 58, 'v_under', -90, bracket_bench(False), 'pores', kind='cannot_tell', blur=6000)
photo(P, 'A', 39, 'v_section', -90, bracket_bench(True), 'cut through flesh and tubes', kind='cannot_tell', blur=6000)

P = '25-108'
photo(P, 'H', 0, 'v_insitu,v_top,v_slip,v_scale', -76, thing_photo(P, cups, -76, 34, 350, 10, slip_at=(100, 20), tilt=25, x=32, y=12), 'in place')
photo(P, 'H', 35, 'v_insitu', -100, thing_photo(P, cups, -104, 12, 300, 20, slip_at=(60, -62), tilt=60, size=TALL), 'low, from the side', size=TALL, orientation=6, blur=4800)
photo(P, 'H', 52, 'v_under,v_stem', -90, bench(P, cups_bench, dist=330, to=(2, -6, 10)), 'outside and inside', kind='washed', blur=5000)

P = '25-109'
photo(P, 'H', 0, 'v_insitu,v_slip,v_scale', -80, thing_photo(P, corals, -80, 7, 380, 38, slip_at=(100, 0), tilt=60), 'in place')
photo(P, 'H', 42, 'v_top', -80, thing_photo(P, corals, -70, 48, 330, 48, slip_at=(92, 10), tilt=20), 'from above', kind='in_ground')
photo(P, 'H', 63, 'v_base,v_stem', -90, bench(P, coral_bench, dist=360), 'dug out with its foot', kind='cleaned', blur=6000)

P = '25-110'
photo(P, 'L', 0, 'v_insitu,v_slip,v_scale,v_ages', -84, thing_photo(P, puffs, -84, 9, 390, 28, slip_at=(112, -24), tilt=60, more=dict(grass=1.1)), 'in place')
photo(P, 'H', 38, 'v_top', -84, thing_photo(P, puffs, -70, 50, 370, 22, slip_at=(92, 58), tilt=20), 'from above')
photo(P, 'H', 57, 'v_section', -90, bench(P, puff_bench, dist=380, to=(6, -2, 14)), 'cut lengthwise: one even white tissue', kind='cut', blur=6000)
photo(P, 'H', 40, 'v_base', -90, bench(P, puff_base, dist=330, to=(2, -4, 14)), 'sterile foot, with soil', kind='with_soil', blur=5000)

P = '25-111'
photo(P, 'H', 0, 'v_habitat,v_substrate', -90, thing_photo(P, tuft_stump, -96, 10, 900, 90, x=0, fov=44, slip_at=(150, 60), tilt=55), 'the stump', blur=16000, maxr=16)
photo(P, 'H', 36, 'v_insitu,v_slip,v_scale,v_ages', -90, thing_photo(P, tuft_stump, -88, 3, 420, 98, slip_at=(86, 76), tilt=78, pin=44, x=22), 'the tuft in place')
photo(P, 'A', 48, 'v_under,v_ring', -90, thing_photo(P, tuft_stump, -104, -14, 250, 112, slip_at=(40, 62), tilt=78, size=TALL, pin=24, x=4), 'from below: gills and rings', size=TALL, orientation=6, blur=4800)
photo(P, 'H', 66, 'v_base,v_stem', -90, bench(P, tuft_bench, dist=360), 'feet grown together, broken out with crumbs of wood', kind='broken', blur=6000)

P = '25-112'
photo(P, 'H', 0, 'v_insitu,v_slip,v_scale,v_ages', -82, thing_photo(P, eggs, -82, 14, 320, 18, slip_at=(92, 4), tilt=50), 'in place')
photo(P, 'H', 43, 'v_section', -90, bench(P, egg_bench, dist=370, to=(4, -2, 14)), 'cut lengthwise: the outline of cap, gills and stem', kind='with_soil', blur=6000)
photo(P, 'H', 38, 'v_top', -82, thing_photo(P, eggs, -70, 56, 300, 16, slip_at=(88, 0), tilt=16), 'from above')
