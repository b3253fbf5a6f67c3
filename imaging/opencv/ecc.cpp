//go:build opencv

#include "ecc.h"

#include <opencv2/core.hpp>
#include <opencv2/video/tracking.hpp>

double mudline_ecc(const unsigned char *a, int rows_a, const unsigned char *b, int rows_b, int w, float *shift) {
    try {
        const cv::Mat fixed(rows_a, w, CV_8UC1, const_cast<unsigned char *>(a));
        const cv::Mat moving(rows_b, w, CV_8UC1, const_cast<unsigned char *>(b));
        cv::Mat warp = (cv::Mat_<float>(2, 3) << 1, 0, shift[0], 0, 1, shift[1]);
        const cv::TermCriteria until(cv::TermCriteria::COUNT + cv::TermCriteria::EPS, 60, 1e-6);
        const double reached =
            cv::findTransformECC(fixed, moving, warp, cv::MOTION_TRANSLATION, until, cv::noArray(), 3);
        shift[0] = warp.at<float>(0, 2);
        shift[1] = warp.at<float>(1, 2);
        return reached;
    } catch (...) {
        return -1;
    }
}
