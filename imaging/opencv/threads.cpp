//go:build opencv

#include "threads.h"

#include <opencv2/core/utility.hpp>

void mudline_one_thread(void) { cv::setNumThreads(1); }
