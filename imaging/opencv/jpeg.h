#include <stddef.h>

// mudline_jpeg decodes a JPEG of n bytes, full_w x full_h pixels, at 1/by of its
// size (1, 2, 4 or 8) and brings it to w x h pixels of red, green, blue and 255,
// without gaps at out, each the mean of what it covers. That must be less than
// two pixels of the decoded picture to each side. 0 means that the picture must
// be left to another decoder: it is damaged or unusual.
int mudline_jpeg(const unsigned char *data, size_t n, int full_w, int full_h, int by, int w, int h, unsigned char *out);
