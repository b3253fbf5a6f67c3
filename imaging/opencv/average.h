#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

// A new pixel covers at most three old ones.
enum { TAPS = 3 };

// The weights along a column add up to 1 << DOWN_BITS, along a row to 1 <<
// ACROSS_BITS, so that sums stay within 15 and 29 bits.
enum { DOWN_BITS = 7, ACROSS_BITS = 14 };

// tap says which old pixels a new one is the mean of, and with what weights.
typedef struct {
    int from;
    int16_t weight[TAPS];
} tap;

// mudline_add adds a weighted row of n samples to sums.
void mudline_add(uint16_t *sum, const uint8_t *row, int weight, int n);

// mudline_across makes n pixels of red, green, blue and 255 from such sums, four
// to a pixel. It reads three pixels from the last tap on.
void mudline_across(uint8_t *out, const uint16_t *sum, const tap *taps, int n);

#ifdef __cplusplus
}
#endif
