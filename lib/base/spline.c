#include "base/spline.h"

/* Slope at the first of six values, in grid units. The last of a line: same with step -1, negated.
 */
static double end_slope(const double *f, int step)
{
    static const double k[6] = {-137.0 / 60, 300.0 / 60, -300.0 / 60, 200.0 / 60, -75.0 / 60, 0.2};
    double sum = 0;
    for (int i = 0; i < 6; i++)
        sum += k[i] * f[i * step];
    return sum;
}

/* Rows: (c[i-1] + 4 c[i] + c[i+1]) / 6 = f[i]; end rows with c[-1] = c[1] - 2 slope put in. */
void ct_spline_fit(double *c, int n, int stride, double *work)
{
    double *f = c + stride; /* values, then coefficients 0..n */
    double first = end_slope(f, stride), last = -end_slope(f + n * stride, -stride);
    f[0] = 6 * f[0] + 2 * first;
    work[0] = 2.0 / 4;
    f[0] /= 4;
    for (int i = 1; i <= n; i++) {
        double low = i < n ? 1 : 2, pivot = 1 / (4 - low * work[i - 1]);
        work[i] = pivot;
        double right = 6 * f[i * stride] - (i < n ? 0 : 2 * last);
        f[i * stride] = (right - low * f[(i - 1) * stride]) * pivot;
    }
    for (int i = n - 1; i >= 0; i--)
        f[i * stride] -= work[i] * f[(i + 1) * stride];
    c[0] = f[stride] - 2 * first;
    c[(n + 2) * stride] = f[(n - 1) * stride] + 2 * last;
}

void ct_spline_fit2(double *c, int nx, int ny, int width, double *work)
{
    int row = (ny + 3) * width;
    for (int i = 1; i <= nx + 1; i++)
        for (int k = 0; k < width; k++)
            ct_spline_fit(c + i * row + k, ny, width, work);
    for (int j = 0; j < row; j++)
        ct_spline_fit(c + j, nx, row, work);
}
