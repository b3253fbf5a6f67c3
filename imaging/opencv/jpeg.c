//go:build opencv

#include "jpeg.h"

#include "average.h"

#include <math.h>
#include <setjmp.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <jpeglib.h>

// lay_taps divides length old pixels (the last may count in part) among n.
static void lay_taps(tap *t, int n, double length, int bits) {
    for (int x = 0; x < n; x++) {
        const double from = x * length / n, to = (x + 1) * length / n;
        int rest = 1 << bits;
        int largest = 0;
        t[x].from = (int)from;
        for (int k = 0; k < TAPS; k++) {
            const double left = fmax(from, t[x].from + k), right = fmin(to, t[x].from + k + 1);
            t[x].weight[k] = (int16_t)lround(fmax(0, right - left) / (to - from) * (1 << bits));
            rest -= t[x].weight[k];
            if (t[x].weight[k] > t[x].weight[largest]) largest = k;
        }
        t[x].weight[largest] = (int16_t)(t[x].weight[largest] + rest);
    }
}

typedef struct {
    struct jpeg_error_mgr manager; // first: libjpeg knows of this alone
    jmp_buf away;
} errors;

static void give_up(j_common_ptr c) { longjmp(((errors *)c->err)->away, 1); }

// A warning, which is below 0, means that a picture is damaged.
static void on_message(j_common_ptr c, int level) {
    if (level < 0) give_up(c);
}

typedef struct {
    tap *down, *across;
    uint8_t *line;
    uint16_t *sum;
} buffers;

static int decode(struct jpeg_decompress_struct *c, buffers *b, int by, int w, int h, uint8_t *out) {
    const double wide = (double)c->image_width / by, high = (double)c->image_height / by;
    c->scale_num = 1;
    c->scale_denom = (unsigned)by;
    c->out_color_space = JCS_EXT_RGBX;
    jpeg_start_decompress(c);
    const int n = 4 * (int)c->output_width;
    if (wide < w || wide >= 2 * w || high < h || high >= 2 * h || c->output_components != 4) return 0;
    b->down = malloc(sizeof(tap) * (size_t)h);
    b->across = malloc(sizeof(tap) * (size_t)w);
    b->line = malloc((size_t)n);
    b->sum = calloc((size_t)n + 4 * TAPS, sizeof(uint16_t)); // what taps of weight 0 see, too
    if (!b->down || !b->across || !b->line || !b->sum) return 0;
    lay_taps(b->down, h, high, DOWN_BITS);
    lay_taps(b->across, w, wide, ACROSS_BITS);
    for (int y = 0, have = -1; y < h; y++) {
        memset(b->sum, 0, sizeof(uint16_t) * (size_t)n);
        for (int k = 0; k < TAPS; k++) {
            if (b->down[y].weight[k] == 0) continue;
            for (; have < b->down[y].from + k; have++) {
                if (jpeg_read_scanlines(c, &b->line, 1) != 1) return 0;
            }
            mudline_add(b->sum, b->line, b->down[y].weight[k], n);
        }
        mudline_across(out + (size_t)y * 4 * (size_t)w, b->sum, b->across, w);
    }
    while (c->output_scanline < c->output_height) { // damage may come late
        if (jpeg_read_scanlines(c, &b->line, 1) != 1) return 0;
    }
    return jpeg_finish_decompress(c);
}

int mudline_jpeg(const unsigned char *data, size_t n, int full_w, int full_h, int by, int w, int h, unsigned char *out) {
    struct jpeg_decompress_struct c;
    errors e;
    buffers *b = calloc(1, sizeof(buffers)); // not on the stack, which longjmp may leave out of date
    volatile int done = 0;
    if (!b) return 0;
    c.err = jpeg_std_error(&e.manager);
    e.manager.error_exit = give_up;
    e.manager.emit_message = on_message;
    if (!setjmp(e.away)) {
        jpeg_create_decompress(&c);
        jpeg_mem_src(&c, data, (unsigned long)n);
        jpeg_read_header(&c, TRUE);
        if ((int)c.image_width == full_w && (int)c.image_height == full_h) done = decode(&c, b, by, w, h, out);
    }
    jpeg_destroy_decompress(&c);
    free(b->down);
    free(b->across);
    free(b->line);
    free(b->sum);
    free(b);
    return done;
}
