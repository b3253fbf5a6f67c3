//go:build opencv

#include "average.h"

#include <opencv2/core/hal/intrin.hpp>

using namespace cv;

void mudline_add(uint16_t *sum, const uint8_t *row, int weight, int n) {
    const v_uint16x8 w = v_setall_u16((uint16_t)weight);
    int i = 0;
    for (; i + 16 <= n; i += 16) {
        v_uint16x8 low, high;
        v_expand(v_load(row + i), low, high);
        v_store(sum + i, v_load(sum + i) + v_mul_wrap(low, w));
        v_store(sum + i + 8, v_load(sum + i + 8) + v_mul_wrap(high, w));
    }
    for (; i < n; i++) sum[i] = (uint16_t)(sum[i] + row[i] * weight);
}

// mean is the weighted mean of three pixels, four samples each.
static inline v_int32x4 mean(const uint16_t *sum, const tap &t) {
    const int16_t *s = reinterpret_cast<const int16_t *>(sum) + 4 * t.from; // below 1 << 15
    const v_int16x8 first = v_load(s), second = v_load(s + 4), third = v_load_low(s + 8), none = v_setzero_s16();
    v_int16x8 pairs, rest, unused;
    v_zip(first, second, pairs, unused);
    v_zip(third, none, rest, unused);
    const int both = (uint16_t)t.weight[0] | (int)t.weight[1] << 16;
    return v_dotprod(pairs, v_reinterpret_as_s16(v_setall_s32(both))) +
           v_dotprod(rest, v_reinterpret_as_s16(v_setall_s32((uint16_t)t.weight[2])));
}

static inline v_int32x4 rounded(const v_int32x4 &v) {
    constexpr int bits = DOWN_BITS + ACROSS_BITS;
    return (v + v_setall_s32(1 << (bits - 1))) >> bits;
}

void mudline_across(uint8_t *out, const uint16_t *sum, const tap *taps, int n) {
    const v_uint8x16 opaque = v_reinterpret_as_u8(v_setall_u32(0xff000000u)); // the last byte of each
    const auto pair = [&](int x) {
        return v_pack(rounded(mean(sum, taps[x])), rounded(mean(sum, taps[x + 1])));
    };
    int x = 0;
    for (; x + 4 <= n; x += 4) v_store(out + 4 * x, v_pack_u(pair(x), pair(x + 2)) | opaque);
    for (; x < n; x++) {
        int32_t v[4];
        v_store(v, rounded(mean(sum, taps[x])));
        for (int k = 0; k < 3; k++) out[4 * x + k] = (uint8_t)v[k];
        out[4 * x + 3] = 255;
    }
}
