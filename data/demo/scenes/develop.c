/* Develops a rendering into a photo: depth blur, exposure, tone, grain.
 *
 * develop COLOUR.ppm DATA.ppm PHOTO.ppm MASK.pgm FOCUS_MM BLUR MAXRADIUS EV SEED
 *
 * COLOUR is linear light, 16 bit.  DATA carries the part number in red (of 255)
 * and the distance along the view axis in green (share of 20 m).  The blur is
 * done here and not by the renderer, because a lens sampled by rays costs ten
 * times as much; the picture is cut into layers by the size of the blur disc,
 * each layer is blurred with what it hides left out, and they are put together
 * from the far end.  Prints one line per part: number, box, pixels. */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct { int w, h; float *p; } Plane4;

static void die(const char *what)
{
    fprintf(stderr, "develop: %s\n", what);
    exit(1);
}

static void *need(size_t n)
{
    void *p = calloc(1, n ? n : 1);
    if (!p)
        die("out of memory");
    return p;
}

static uint16_t *read_ppm(const char *path, int *w, int *h)
{
    FILE *f = fopen(path, "rb");
    int max = 0, got[3] = { 0 }, have = 0, ch;
    if (!f || fgetc(f) != 'P' || fgetc(f) != '6')
        die("not a PPM");
    /* The renderer writes comment lines into the header. */
    while (have < 3 && (ch = fgetc(f)) != EOF) {
        if (ch == '#')
            while ((ch = fgetc(f)) != EOF && ch != '\n')
                ;
        else if (ch >= '0' && ch <= '9') {
            ungetc(ch, f);
            if (fscanf(f, "%d", &got[have++]) != 1)
                die("not a PPM");
        }
    }
    *w = got[0];
    *h = got[1];
    max = got[2];
    if (max != 65535 || *w < 1 || *h < 1 || *w > 20000 || *h > 20000)
        die("not a 16 bit PPM");
    fgetc(f);
    size_t n = (size_t)*w * *h * 3;
    unsigned char *raw = need(n * 2);
    uint16_t *out = need(n * 2);
    if (fread(raw, 2, n, f) != n)
        die("PPM is cut short");
    for (size_t i = 0; i < n; i++)
        out[i] = (uint16_t)(raw[2 * i] << 8 | raw[2 * i + 1]);
    free(raw);
    fclose(f);
    return out;
}

/* A disc of radius r by running sums along each row. */
static void disc(Plane4 *a, float r)
{
    int w = a->w, h = a->h, n = (int)ceilf(r);
    float *sum = need(sizeof(float) * 4 * (size_t)(w + 1) * h), *out = need(sizeof(float) * 4 * (size_t)w * h);
    double area = 0;
    for (int y = 0; y < h; y++) {
        double s[4] = { 0 };
        float *q = sum + (size_t)y * (w + 1) * 4;
        for (int x = 0; x < w; x++)
            for (int c = 0; c < 4; c++) {
                s[c] += a->p[((size_t)y * w + x) * 4 + c];
                q[(x + 1) * 4 + c] = (float)s[c];
            }
    }
    for (int d = -n; d <= n; d++) {
        float half = r * r - (float)d * d;
        if (half < 0)
            continue;
        int m = (int)floorf(sqrtf(half) + .3f);
        area += 2 * m + 1;
        for (int y = 0; y < h; y++) {
            int yy = y + d < 0 ? 0 : y + d >= h ? h - 1 : y + d;
            const float *q = sum + (size_t)yy * (w + 1) * 4;
            float *o = out + (size_t)y * w * 4;
            for (int x = 0; x < w; x++, o += 4) {
                int lo = x - m < 0 ? 0 : x - m, hi = x + m + 1 > w ? w : x + m + 1;
                for (int c = 0; c < 4; c++)
                    o[c] += q[hi * 4 + c] - q[lo * 4 + c];
            }
        }
    }
    for (size_t i = 0; i < (size_t)w * h * 4; i++)
        a->p[i] = out[i] / (float)area;
    free(sum);
    free(out);
}

static void small_soft(Plane4 *a)
{
    /* The lens is never sharper than this; it also smooths the stairs of edges. */
    const float k[3] = { .17f, .66f, .17f };
    int w = a->w, h = a->h;
    float *t = need(sizeof(float) * 4 * (size_t)w * h);
    for (int pass = 0; pass < 2; pass++) {
        for (int y = 0; y < h; y++)
            for (int x = 0; x < w; x++)
                for (int c = 0; c < 4; c++) {
                    float s = 0;
                    for (int d = -1; d <= 1; d++) {
                        int xx = pass ? x : x + d, yy = pass ? y + d : y;
                        xx = xx < 0 ? 0 : xx >= w ? w - 1 : xx;
                        yy = yy < 0 ? 0 : yy >= h ? h - 1 : yy;
                        s += k[d + 1] * a->p[((size_t)yy * w + xx) * 4 + c];
                    }
                    t[((size_t)y * w + x) * 4 + c] = s;
                }
        float *q = a->p;
        a->p = t;
        t = q;
    }
    free(t);
}

static void blur(Plane4 *a, float r)
{
    if (r < 1) {
        small_soft(a);
        return;
    }
    int f = r > 24 ? 4 : r > 9 ? 2 : 1;
    if (f == 1) {
        disc(a, r);
        small_soft(a);
        return;
    }
    Plane4 s = { (a->w + f - 1) / f, (a->h + f - 1) / f, NULL };
    s.p = need(sizeof(float) * 4 * (size_t)s.w * s.h);
    for (int y = 0; y < s.h; y++)
        for (int x = 0; x < s.w; x++) {
            int n = 0;
            float *o = s.p + ((size_t)y * s.w + x) * 4;
            for (int j = 0; j < f; j++)
                for (int i = 0; i < f; i++) {
                    int xx = x * f + i, yy = y * f + j;
                    if (xx >= a->w || yy >= a->h)
                        continue;
                    n++;
                    for (int c = 0; c < 4; c++)
                        o[c] += a->p[((size_t)yy * a->w + xx) * 4 + c];
                }
            for (int c = 0; c < 4; c++)
                o[c] /= (float)n;
        }
    disc(&s, r / (float)f);
    for (int y = 0; y < a->h; y++) {
        float fy = ((float)y + .5f) / (float)f - .5f;
        int y0 = (int)floorf(fy);
        float ty = fy - (float)y0;
        int ya = y0 < 0 ? 0 : y0, yb = y0 + 1 >= s.h ? s.h - 1 : y0 + 1;
        for (int x = 0; x < a->w; x++) {
            float fx = ((float)x + .5f) / (float)f - .5f;
            int x0 = (int)floorf(fx);
            float tx = fx - (float)x0;
            int xa = x0 < 0 ? 0 : x0, xb = x0 + 1 >= s.w ? s.w - 1 : x0 + 1;
            for (int c = 0; c < 4; c++) {
                float p = s.p[((size_t)ya * s.w + xa) * 4 + c] * (1 - tx) + s.p[((size_t)ya * s.w + xb) * 4 + c] * tx;
                float q = s.p[((size_t)yb * s.w + xa) * 4 + c] * (1 - tx) + s.p[((size_t)yb * s.w + xb) * 4 + c] * tx;
                a->p[((size_t)y * a->w + x) * 4 + c] = p * (1 - ty) + q * ty;
            }
        }
    }
    free(s.p);
}

static uint32_t rnd_state;

static float rnd(void)
{
    rnd_state = rnd_state * 1664525u + 1013904223u;
    return (float)(rnd_state >> 8) / 16777216.f;
}

static int by_value(const void *a, const void *b)
{
    float x = *(const float *)a, y = *(const float *)b;
    return (x > y) - (x < y);
}

static float tone(float x)
{
    /* sRGB with a soft shoulder and a little more contrast in the middle. */
    if (x > .72f)
        x = .72f + .28f * (1 - expf(-(x - .72f) / .28f)) ;
    float s = x <= .0031308f ? 12.92f * x : 1.055f * powf(x, 1 / 2.4f) - .055f;
    s = s < 0 ? 0 : s > 1 ? 1 : s;
    float t = s * s * (3 - 2 * s);
    return s * .70f + t * .30f;
}

int main(int argc, char **argv)
{
    if (argc != 10)
        die("nine arguments, please");
    int w, h, w2, h2;
    uint16_t *col = read_ppm(argv[1], &w, &h), *dat = read_ppm(argv[2], &w2, &h2);
    if (w != w2 || h != h2)
        die("the two pictures differ in size");
    float focus = strtof(argv[5], NULL), k = strtof(argv[6], NULL), maxr = strtof(argv[7], NULL), ev = strtof(argv[8], NULL);
    rnd_state = (uint32_t)strtoul(argv[9], NULL, 10) * 2654435761u + 1;
    size_t n = (size_t)w * h;

    /* truth: part numbers and their boxes */
    unsigned char *mask = need(n);
    int box[256][4], count[256] = { 0 };
    for (int i = 0; i < 256; i++) {
        box[i][0] = w;
        box[i][1] = h;
        box[i][2] = box[i][3] = -1;
    }
    for (int y = 0; y < h; y++)
        for (int x = 0; x < w; x++) {
            size_t i = (size_t)y * w + x;
            int id = (dat[3 * i] + 128) / 257;
            mask[i] = (unsigned char)id;
            count[id]++;
            if (x < box[id][0]) box[id][0] = x;
            if (y < box[id][1]) box[id][1] = y;
            if (x > box[id][2]) box[id][2] = x;
            if (y > box[id][3]) box[id][3] = y;
        }
    for (int i = 1; i < 256; i++)
        if (count[i])
            printf("%d %d %d %d %d %d\n", i, box[i][0], box[i][1], box[i][2] + 1, box[i][3] + 1, count[i]);
    FILE *f = fopen(argv[4], "wb");
    if (!f || fprintf(f, "P5\n%d %d\n255\n", w, h) < 0 || fwrite(mask, 1, n, f) != n || fclose(f))
        die("cannot write the mask");
    if (!strcmp(argv[3], "-"))
        return 0;

    /* blur */
    static const float level[] = { 0, 1.3f, 2.4f, 4, 6.5f, 10, 15, 22, 32, 46, 64 };
    int levels = (int)(sizeof level / sizeof *level);
    float *c = need(sizeof(float) * n);
    for (size_t i = 0; i < n; i++) {
        float z = (float)dat[3 * i + 1] / 65535.f * 20000.f;
        float r = k * (1 / focus - 1 / (z < 20 ? 20 : z));
        c[i] = r > maxr ? maxr : r < -maxr ? -maxr : r;
    }
    float *acc = need(sizeof(float) * 4 * n);
    for (int step = -(levels - 1); step < levels; step++) {
        int front = step > 0, at = step < 0 ? -step : step;
        float lo = at ? level[at - 1] : 0, mid = level[at], hi = at + 1 < levels ? level[at + 1] : 1e9f;
        Plane4 l = { w, h, need(sizeof(float) * 4 * n) };
        int any = 0;
        for (size_t i = 0; i < n; i++) {
            float r = c[i];
            if (at) {
                if ((r < 0) != front)
                    continue;
            }
            r = fabsf(r);
            float a = r < mid ? (at ? (r - lo) / (mid - lo) : 1) : (hi - r) / (hi - mid);
            if (a <= 0)
                continue;
            if (a > 1)
                a = 1;
            any = 1;
            for (int q = 0; q < 3; q++)
                l.p[4 * i + q] = a * (float)col[3 * i + q] / 65535.f;
            l.p[4 * i + 3] = a;
        }
        if (any) {
            blur(&l, mid);
            for (size_t i = 0; i < n; i++) {
                float a = l.p[4 * i + 3];
                a = a > 1 ? 1 : a;
                for (int q = 0; q < 4; q++)
                    acc[4 * i + q] = acc[4 * i + q] * (1 - a) + l.p[4 * i + q];
            }
        }
        free(l.p);
    }
    for (size_t i = 0; i < n; i++) {
        float a = acc[4 * i + 3] > 1e-4f ? acc[4 * i + 3] : 1;
        for (int q = 0; q < 3; q++)
            acc[4 * i + q] /= a;
    }

    /* Each pixel was traced once: stairs along edges are blended along the edge. */
    {
        float *lm = need(sizeof(float) * n), *fix = need(sizeof(float) * 4 * n);
        for (size_t i = 0; i < n; i++)
            lm[i] = sqrtf(fmaxf(0, .3f * acc[4 * i] + .6f * acc[4 * i + 1] + .1f * acc[4 * i + 2]));
        memcpy(fix, acc, sizeof(float) * 4 * n);
        for (int y = 4; y < h - 4; y++)
            for (int x = 4; x < w - 4; x++) {
                size_t i = (size_t)y * w + x;
                float nw = lm[i - w - 1] + lm[i - w], ne = lm[i - w] + lm[i - w + 1], sw = lm[i + w - 1] + lm[i + w], se = lm[i + w] + lm[i + w + 1];
                nw += lm[i - 1] + lm[i], ne += lm[i + 1] + lm[i], sw += lm[i - 1] + lm[i], se += lm[i + 1] + lm[i];
                float lo = fminf(fminf(nw, ne), fminf(sw, se)), up = fmaxf(fmaxf(nw, ne), fmaxf(sw, se));
                if (up - lo < .10f * up || up - lo < .04f)
                    continue;
                float dx = -(nw + ne - sw - se), dy = nw + sw - ne - se;
                float m = fmaxf(fminf(fabsf(dx), fabsf(dy)), .02f * up);
                dx = fmaxf(-6, fminf(6, dx / m));
                dy = fmaxf(-6, fminf(6, dy / m));
                float s4[4] = { 0 };
                static const float at[] = { -.5f, -.1667f, .1667f, .5f };
                for (int k4 = 0; k4 < 4; k4++) {
                    float fx = (float)x + dx * at[k4] * .9f, fy = (float)y + dy * at[k4] * .9f;
                    int ix = (int)fx, iy = (int)fy;
                    float tx = fx - (float)ix, ty = fy - (float)iy;
                    const float *q = acc + 4 * ((size_t)iy * w + ix);
                    for (int c4 = 0; c4 < 3; c4++)
                        s4[c4] += .25f * ((q[c4] * (1 - tx) + q[4 + c4] * tx) * (1 - ty) + (q[4 * w + c4] * (1 - tx) + q[4 * w + 4 + c4] * tx) * ty);
                }
                for (int c4 = 0; c4 < 3; c4++)
                    fix[4 * i + c4] = s4[c4];
            }
        free(acc);
        free(lm);
        acc = fix;
    }

    /* exposure as a camera would: a middle grey, but the brightest kept */
    size_t m = 0;
    float *lum = need(sizeof(float) * (n / 37 + 2));
    double sum = 0;
    for (size_t i = 0; i < n; i += 37) {
        float l = .2126f * acc[4 * i] + .7152f * acc[4 * i + 1] + .0722f * acc[4 * i + 2];
        lum[m++] = l;
        sum += log(l + 1e-4);
    }
    qsort(lum, m, sizeof(float), by_value);
    double key = exp(sum / (double)m), top = lum[(size_t)((double)m * .992)];
    float gain = (float)(.175 / key);
    if (gain * top > .80)
        gain = (float)(.5 * gain + .5 * .80 / top);
    if (gain * top > 1.05)
        gain = (float)(1.05 / top);
    gain *= powf(2, ev);
    fprintf(stderr, "develop: key %.3f top %.3f gain %.2f\n", key, top, gain);

    unsigned char *out = need(n * 3);
    for (int y = 0; y < h; y++)
        for (int x = 0; x < w; x++) {
            size_t i = (size_t)y * w + x;
            float dx = ((float)x - (float)w / 2) / (float)w, dy = ((float)y - (float)h / 2) / (float)w;
            float v = gain * (1 - .42f * (dx * dx + dy * dy));
            float g = (rnd() + rnd() + rnd() - 1.5f) * .9f;
            for (int q = 0; q < 3; q++) {
                float t = acc[4 * i + q] * v * (q == 0 ? 1.02f : q == 2 ? .955f : 1);
                t = tone(t) * 255 + g * 1.6f + .5f;
                out[3 * i + q] = (unsigned char)(t < 0 ? 0 : t > 255 ? 255 : t);
            }
        }
    f = fopen(argv[3], "wb");
    if (!f || fprintf(f, "P6\n%d %d\n255\n", w, h) < 0 || fwrite(out, 1, n * 3, f) != n * 3 || fclose(f))
        die("cannot write the photo");
    return 0;
}
