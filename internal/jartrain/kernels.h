// Convolutions by 3 x 3 (taps 9) or single pixels (taps 1), stored pixel by pixel,
// channels side by side: in[(y*pw+x)*ci+c]. For taps 9 the input has a rim of one
// zero. Weights are w[k][ci][co], k = 3*row+column.
void convForward(const float *in, int pw, int ci, const float *w, const float *b,
                 float *out, int ow, int oh, int co, int stride, int taps, float leak);
// Gradients: dw, db and din are added to.
// wt is w transposed to [k][co][ci].
void convBackward(const float *in, int pw, int ci, const float *wt, const float *dout,
                  int ow, int oh, int co, int stride, int taps, float *dw, float *db, float *din);
