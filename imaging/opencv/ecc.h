#ifdef __cplusplus
extern "C" {
#endif

// mudline_ecc refines the shift (x, y) that leads from a pixel of a to the same
// pixel of b, grey pictures without gaps, both w wide, and returns the
// correlation reached; -1 when cv::findTransformECC gives up. It does that by a
// C++ exception, which must not reach Go.
double mudline_ecc(const unsigned char *a, int rows_a, const unsigned char *b, int rows_b, int w, float *shift);

#ifdef __cplusplus
}
#endif
