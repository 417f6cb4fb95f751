/* Loaded before the C library: writes down what a program asks of the disk in one folder, in the order of asking.
   DISK_FOLDER names the folder, DISK_LOG the file for the log. A line "what offset length path", then the bytes. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/types.h>
#include <unistd.h>

static void note(const char *what, const char *path, long long offset, size_t length, const void *bytes) {
    static FILE *log;
    const char *folder = getenv("DISK_FOLDER");
    if (!folder || strncmp(path, folder, strlen(folder))) return;
    if (!log && !(log = fopen(getenv("DISK_LOG"), "w"))) abort();
    fprintf(log, "%s %lld %zu %s\n", what, offset, length, path);
    if (bytes) fwrite(bytes, 1, length, log);
    fflush(log);
}

static void note_open(const char *what, int file, long long offset, size_t length, const void *bytes) {
    char link[64], path[4096];
    snprintf(link, sizeof link, "/proc/self/fd/%d", file);
    ssize_t end = readlink(link, path, sizeof path - 1);
    if (end < 0) return;
    path[end] = 0;
    note(what, path, offset, length, bytes);
}

#define REAL(name) static __typeof__(name) *real; if (!real) real = (__typeof__(name) *)dlsym(RTLD_NEXT, #name)

#define PWRITE(name, offset_t)                                                   \
    ssize_t name(int file, const void *bytes, size_t length, offset_t offset) {  \
        REAL(name);                                                              \
        ssize_t done = real(file, bytes, length, offset);                        \
        if (done > 0) note_open("write", file, offset, (size_t)done, bytes);     \
        return done;                                                             \
    }
PWRITE(pwrite, off_t)
PWRITE(pwrite64, off64_t)

#define SYNC(name)                                \
    int name(int file) {                          \
        REAL(name);                               \
        int failed = real(file);                  \
        if (!failed) note_open("sync", file, 0, 0, 0); \
        return failed;                            \
    }
SYNC(fsync)
SYNC(fdatasync)

#define CUT(name, offset_t)                       \
    int name(int file, offset_t length) {         \
        REAL(name);                               \
        int failed = real(file, length);          \
        if (!failed) note_open("cut", file, length, 0, 0); \
        return failed;                            \
    }
CUT(ftruncate, off_t)
CUT(ftruncate64, off64_t)

int unlink(const char *path) {
    REAL(unlink);
    int failed = real(path);
    if (!failed) note("gone", path, 0, 0, 0);
    return failed;
}

#define OPEN(name)                                                    \
    int name(const char *path, int flags, ...) {                      \
        REAL(name);                                                   \
        va_list rest;                                                 \
        va_start(rest, flags);                                        \
        mode_t mode = flags & O_CREAT ? va_arg(rest, mode_t) : 0;     \
        va_end(rest);                                                 \
        int is_new = (flags & O_CREAT) && access(path, F_OK);         \
        int file = real(path, flags, mode);                           \
        if (file >= 0 && is_new) note("new", path, 0, 0, 0);          \
        return file;                                                  \
    }
OPEN(open)
OPEN(open64)
