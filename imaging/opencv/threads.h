#ifdef __cplusplus
extern "C" {
#endif

// mudline_one_thread makes OpenCV do its work on the thread that asks for it.
void mudline_one_thread(void);

#ifdef __cplusplus
}
#endif
