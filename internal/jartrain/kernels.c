#include "kernels.h"

void convForward(const float *restrict in, int pw, int ci, const float *restrict w, const float *restrict b,
                 float *restrict out, int ow, int oh, int co, int stride, int taps, float leak) {
	for (int y = 0; y < oh; y++)
		for (int x = 0; x < ow; x++) {
			float *restrict o = out + (y * ow + x) * co;
			for (int c = 0; c < co; c++) o[c] = b[c];
			for (int k = 0; k < taps; k++) {
				const float *p = in + ((stride * y + k / 3) * pw + stride * x + k % 3) * ci;
				const float *restrict wk = w + k * ci * co;
				for (int i = 0; i < ci; i++) {
					float v = p[i];
					const float *restrict r = wk + i * co;
					for (int c = 0; c < co; c++) o[c] += v * r[c];
				}
			}
			for (int c = 0; c < co; c++) o[c] = o[c] < 0 ? leak * o[c] : o[c];
		}
}

void convBackward(const float *restrict in, int pw, int ci, const float *restrict wt, const float *restrict dout,
                  int ow, int oh, int co, int stride, int taps, float *restrict dw, float *restrict db, float *restrict din) {
	for (int y = 0; y < oh; y++)
		for (int x = 0; x < ow; x++) {
			const float *restrict d = dout + (y * ow + x) * co;
			for (int c = 0; c < co; c++) db[c] += d[c];
			for (int k = 0; k < taps; k++) {
				int at = ((stride * y + k / 3) * pw + stride * x + k % 3) * ci;
				const float *restrict p = in + at;
				float *restrict g = dw + k * ci * co;
				for (int i = 0; i < ci; i++) {
					float v = p[i];
					float *restrict r = g + i * co;
					for (int c = 0; c < co; c++) r[c] += v * d[c];
				}
				float *restrict q = din + at;
				const float *restrict t = wt + k * co * ci;
				for (int c = 0; c < co; c++) {
					float v = d[c];
					const float *restrict r = t + c * ci;
					for (int i = 0; i < ci; i++) q[i] += v * r[i];
				}
			}
		}
}
