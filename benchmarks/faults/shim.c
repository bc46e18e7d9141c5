/* Lets one call into the system fail, or kills the process at it: for benchmarks/command_faults.py, by LD_PRELOAD.
 *
 * Counted are the calls that concern files below one folder: by their path, or by a handle that was opened by one.
 * docgen_arm(folder, at, error): the call number `at` (from 0) fails with `error`, or kills the process where that is
 * -1; with an error of 0 all calls are counted and none fails. ENOSPC and EROFS befall only calls that write, and every
 * such call from there on: a disk that is full stays full.
 */
#define _GNU_SOURCE
#include <dirent.h>
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define HANDLES 4096
static char folder[4096];
static size_t length;
static long passed, at = -1;
static int error_, armed;
static char mine[HANDLES];

void docgen_arm(const char *where, long number, int error) {
    strncpy(folder, where, sizeof folder - 1);
    length = strlen(folder);
    passed = 0;
    at = number;
    error_ = error;
    armed = 1;
}

long docgen_passed(void) { return passed; }
void docgen_disarm(void) { armed = 0; }

static int below(const char *path) { return armed && path && strncmp(path, folder, length) == 0; }
static int held(int handle) { return armed && handle >= 0 && handle < HANDLES && mine[handle]; }

static int fails(int writes) {
    int sticks = error_ == ENOSPC || error_ == EROFS;
    long number;
    if (sticks && !writes) return 0;
    number = passed++;
    if (error_ == 0 || (sticks ? number < at : number != at)) return 0;
    if (error_ == -1) {
        kill(getpid(), SIGKILL);
        for (;;) pause();
    }
    errno = error_;
    return 1;
}

#define REAL(type, name, ...)                                                                                          \
    static type (*real)(__VA_ARGS__);                                                                                  \
    if (!real) real = (type(*)(__VA_ARGS__))dlsym(RTLD_NEXT, #name)

static int opened(int handle) {
    if (handle >= 0 && handle < HANDLES) mine[handle] = 1;
    return handle;
}

#define WRITING(flags) (((flags)&O_ACCMODE) != O_RDONLY || ((flags)&O_CREAT))
#define MODE(flags) \
    mode_t mode = 0; \
    if ((flags) & (O_CREAT | O_TMPFILE)) { va_list more; va_start(more, flags); mode = va_arg(more, mode_t); va_end(more); }

#define OPEN(name)                                                                                                     \
    int name(const char *path, int flags, ...) {                                                                       \
        MODE(flags)                                                                                                    \
        REAL(int, name, const char *, int, ...);                                                                       \
        if (!below(path)) return real(path, flags, mode);                                                              \
        return fails(WRITING(flags)) ? -1 : opened(real(path, flags, mode));                                           \
    }
OPEN(open)
OPEN(open64)

#define OPENAT(name)                                                                                                   \
    int name(int from, const char *path, int flags, ...) {                                                             \
        MODE(flags)                                                                                                    \
        REAL(int, name, int, const char *, int, ...);                                                                  \
        if (!below(path)) return real(from, path, flags, mode);                                                        \
        return fails(WRITING(flags)) ? -1 : opened(real(from, path, flags, mode));                                     \
    }
OPENAT(openat)
OPENAT(openat64)

ssize_t write(int handle, const void *data, size_t count) {
    REAL(ssize_t, write, int, const void *, size_t);
    return held(handle) && fails(1) ? -1 : real(handle, data, count);
}
ssize_t read(int handle, void *data, size_t count) {
    REAL(ssize_t, read, int, void *, size_t);
    return held(handle) && fails(0) ? -1 : real(handle, data, count);
}
int fsync(int handle) {
    REAL(int, fsync, int);
    return held(handle) && fails(1) ? -1 : real(handle);
}
int close(int handle) {
    int failed = held(handle) && fails(0);
    REAL(int, close, int);
    if (handle >= 0 && handle < HANDLES) mine[handle] = 0;
    if (!failed) return real(handle);
    real(handle);
    errno = error_;
    return -1;
}

#define ONE(name, writes)                                                                                              \
    int name(const char *path) {                                                                                       \
        REAL(int, name, const char *);                                                                                 \
        return below(path) && fails(writes) ? -1 : real(path);                                                         \
    }
ONE(unlink, 1)
ONE(rmdir, 1)

#define TWO(name)                                                                                                      \
    int name(const char *from, const char *to) {                                                                       \
        REAL(int, name, const char *, const char *);                                                                   \
        return below(to) && fails(1) ? -1 : real(from, to);                                                            \
    }
TWO(link)
TWO(rename)

int linkat(int a, const char *from, int b, const char *to, int flags) {
    REAL(int, linkat, int, const char *, int, const char *, int);
    return below(to) && fails(1) ? -1 : real(a, from, b, to, flags);
}
int renameat(int a, const char *from, int b, const char *to) {
    REAL(int, renameat, int, const char *, int, const char *);
    return below(to) && fails(1) ? -1 : real(a, from, b, to);
}
int unlinkat(int from, const char *path, int flags) {
    REAL(int, unlinkat, int, const char *, int);
    return below(path) && fails(1) ? -1 : real(from, path, flags);
}
int mkdir(const char *path, mode_t mode) {
    REAL(int, mkdir, const char *, mode_t);
    return below(path) && fails(1) ? -1 : real(path, mode);
}
int mkdirat(int from, const char *path, mode_t mode) {
    REAL(int, mkdirat, int, const char *, mode_t);
    return below(path) && fails(1) ? -1 : real(from, path, mode);
}
int stat(const char *path, struct stat *found) {
    REAL(int, stat, const char *, struct stat *);
    return below(path) && fails(0) ? -1 : real(path, found);
}
int lstat(const char *path, struct stat *found) {
    REAL(int, lstat, const char *, struct stat *);
    return below(path) && fails(0) ? -1 : real(path, found);
}
int fstatat(int from, const char *path, struct stat *found, int flags) {
    REAL(int, fstatat, int, const char *, struct stat *, int);
    return below(path) && fails(0) ? -1 : real(from, path, found, flags);
}
DIR *opendir(const char *path) {
    REAL(DIR *, opendir, const char *);
    return below(path) && fails(0) ? NULL : real(path);
}
