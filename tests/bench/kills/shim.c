/* Loaded before the C library (LD_PRELOAD): counts the calls that change what lies below one folder,
 * and kills its process at one of them, or writes down all of them with their bytes.
 *
 * A program is armed from inside (`arm`), so that it can load and fork before. The clock can be held,
 * so that two runs write the same moments. Only for measuring; no part of joblog.
 */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/sendfile.h>
#include <sys/stat.h>
#include <sys/time.h>
#include <sys/types.h>
#include <sys/uio.h>
#include <time.h>
#include <unistd.h>

static char below[4096];
static size_t below_length;
static long calls, last;
static int torn, log_to = -1, told = 0;
static double held_at = 0;

#define REAL(name) \
    static __typeof__(&name) real; \
    if (!real) real = (__typeof__(&name))dlsym(RTLD_NEXT, #name)

/* Calls from now on count; the process dies before the last_call-th (0: never), or, where `half`, in
 * the middle of it if it writes. Calls are written down to `log_descriptor` unless that is -1. */
void kills_arm(const char *folder, long last_call, int half, int log_descriptor) {
    snprintf(below, sizeof below, "%s", folder);
    below_length = strlen(below);
    calls = 0;
    last = last_call;
    torn = half;
    log_to = log_descriptor;
}

long kills_calls(void) { return calls; }

/* The time of day stands still there from now on; 0 lets it go again. */
void kills_hold_clock(double seconds) { held_at = seconds; }

static void put(const void *bytes, size_t length) {
    REAL(write);
    const char *from = bytes;
    while (length) {
        ssize_t done = real(log_to, from, length);
        if (done <= 0) _exit(254);
        from += done;
        length -= (size_t)done;
    }
}

/* One line of text, and the bytes it announces. */
static void note(const char *what, const char *path, const char *other, long long at,
                 const void *bytes, size_t length) {
    if (log_to < 0) return;
    char line[9000];
    int size = snprintf(line, sizeof line, "%s\t%s\t%s\t%lld\t%zu\n", what, path, other, at,
                        bytes ? length : 0);
    put(line, (size_t)size);
    if (bytes) put(bytes, length);
}

static int counted(const char *path) {
    return below_length && !strncmp(path, below, below_length) &&
           (path[below_length] == '/' || !path[below_length]);
}

/* The path that a descriptor stands for, as it is named now; 0 where it is none below the folder. */
static int of_descriptor(int descriptor, char *path) {
    if (!below_length || descriptor < 0 || descriptor == log_to) return 0;
    char link[64];
    snprintf(link, sizeof link, "/proc/self/fd/%d", descriptor);
    ssize_t length = readlink(link, path, 4095);
    if (length <= 0) return 0;
    path[length] = 0;
    return counted(path);
}

static int of_path(int folder, const char *name, char *path) {
    if (!below_length || !name) return 0;
    if (name[0] == '/') {
        snprintf(path, 4096, "%s", name);
    } else {
        char start[2048];
        if (folder == AT_FDCWD) {
            if (!getcwd(start, sizeof start)) return 0;
        } else {
            char link[64];
            snprintf(link, sizeof link, "/proc/self/fd/%d", folder);
            ssize_t length = readlink(link, start, sizeof start - 1);
            if (length <= 0) return 0;
            start[length] = 0;
        }
        snprintf(path, 4096, "%s/%s", start, name);
    }
    return counted(path);
}

/* Counts; whether the process is to die in this call. It does at once where nothing can be half. */
static int dies(int may_be_half) {
    calls++;
    if (!last || calls != last) return 0;
    if (torn && may_be_half) return 1;
    kill(getpid(), SIGKILL);
    return 1;
}

static void die(void) { kill(getpid(), SIGKILL); }

static ssize_t written(int descriptor, const char *path, const void *bytes, size_t length, off_t at,
                       int positioned) {
    REAL(pwrite);
    ssize_t (*plain)(int, const void *, size_t) =
        (ssize_t(*)(int, const void *, size_t))dlsym(RTLD_NEXT, "write");
    int half = dies(1);
    if (half) length /= 2;
    if (!positioned) {
        int flags = fcntl(descriptor, F_GETFL);
        struct stat now;
        if ((flags & O_APPEND) && !fstat(descriptor, &now)) at = now.st_size;
        else at = lseek(descriptor, 0, SEEK_CUR);
    }
    ssize_t done = positioned ? real(descriptor, bytes, length, at) : plain(descriptor, bytes, length);
    if (half) die();
    if (done > 0) note("write", path, "", (long long)at, bytes, (size_t)done);
    return done;
}

ssize_t write(int descriptor, const void *bytes, size_t length) {
    REAL(write);
    char path[4096];
    if (log_to >= 0 && (descriptor == 1 || descriptor == 2)) {
        ssize_t done = real(descriptor, bytes, length);
        if (descriptor == 1) note("tell", "", "", told++, NULL, 0);
        return done;
    }
    if (!of_descriptor(descriptor, path)) return real(descriptor, bytes, length);
    return written(descriptor, path, bytes, length, 0, 0);
}

ssize_t pwrite(int descriptor, const void *bytes, size_t length, off_t at) {
    REAL(pwrite);
    char path[4096];
    if (!of_descriptor(descriptor, path)) return real(descriptor, bytes, length, at);
    return written(descriptor, path, bytes, length, at, 1);
}

ssize_t pwrite64(int descriptor, const void *bytes, size_t length, off64_t at) {
    return pwrite(descriptor, bytes, length, (off_t)at);
}

ssize_t writev(int descriptor, const struct iovec *parts, int count) {
    REAL(writev);
    char path[4096];
    if (!of_descriptor(descriptor, path)) return real(descriptor, parts, count);
    ssize_t all = 0;
    for (int part = 0; part < count; part++) {
        ssize_t done = write(descriptor, parts[part].iov_base, parts[part].iov_len);
        if (done < 0) return all ? all : done;
        all += done;
    }
    return all;
}

/* Others would copy by these in the kernel; here they fall back on writing. */
ssize_t sendfile(int to, int from, off_t *at, size_t length) {
    REAL(sendfile);
    char path[4096];
    if (!of_descriptor(to, path)) return real(to, from, at, length);
    errno = EINVAL;
    return -1;
}
ssize_t sendfile64(int to, int from, off64_t *at, size_t length) {
    return sendfile(to, from, (off_t *)at, length);
}
ssize_t copy_file_range(int from, off64_t *at, int to, off64_t *there, size_t length, unsigned flags) {
    REAL(copy_file_range);
    char path[4096];
    if (!of_descriptor(to, path)) return real(from, at, to, there, length, flags);
    errno = EXDEV;
    return -1;
}

#define ON_DESCRIPTOR(name, what, parameters, arguments, at) \
    int name parameters { \
        REAL(name); \
        char path[4096]; \
        if (!of_descriptor(descriptor, path)) return real arguments; \
        dies(0); \
        int done = real arguments; \
        if (!done) note(what, path, "", (long long)(at), NULL, 0); \
        return done; \
    }

ON_DESCRIPTOR(fsync, "sync", (int descriptor), (descriptor), 0)
ON_DESCRIPTOR(fdatasync, "sync", (int descriptor), (descriptor), 0)
ON_DESCRIPTOR(ftruncate, "cut", (int descriptor, off_t length), (descriptor, length), length)
ON_DESCRIPTOR(ftruncate64, "cut", (int descriptor, off64_t length), (descriptor, length), length)
ON_DESCRIPTOR(fchmod, "mode", (int descriptor, mode_t mode), (descriptor, mode), mode)

#define ON_PATH(name, what, parameters, arguments, folder, at) \
    int name parameters { \
        REAL(name); \
        char path[4096]; \
        if (!of_path(folder, file, path)) return real arguments; \
        dies(0); \
        int done = real arguments; \
        if (!done) note(what, path, "", (long long)(at), NULL, 0); \
        return done; \
    }

ON_PATH(unlink, "unlink", (const char *file), (file), AT_FDCWD, 0)
ON_PATH(unlinkat, "unlink", (int folder, const char *file, int flags), (folder, file, flags), folder, 0)
ON_PATH(rmdir, "unlink", (const char *file), (file), AT_FDCWD, 0)
ON_PATH(mkdir, "mkdir", (const char *file, mode_t mode), (file, mode), AT_FDCWD, mode)
ON_PATH(mkdirat, "mkdir", (int folder, const char *file, mode_t mode), (folder, file, mode), folder, mode)
ON_PATH(truncate, "cut", (const char *file, off_t length), (file, length), AT_FDCWD, length)
ON_PATH(truncate64, "cut", (const char *file, off64_t length), (file, length), AT_FDCWD, length)
ON_PATH(chmod, "mode", (const char *file, mode_t mode), (file, mode), AT_FDCWD, mode)

#define ON_TWO(name, what, parameters, arguments, folder, other_folder) \
    int name parameters { \
        REAL(name); \
        char path[4096], place[4096]; \
        int ours = of_path(folder, file, path), theirs = of_path(other_folder, other, place); \
        if (!ours && !theirs) return real arguments; \
        dies(0); \
        int done = real arguments; \
        if (!done) note(what, path, place, 0, NULL, 0); \
        return done; \
    }

ON_TWO(rename, "rename", (const char *file, const char *other), (file, other), AT_FDCWD, AT_FDCWD)
ON_TWO(renameat, "rename", (int folder, const char *file, int place_folder, const char *other),
       (folder, file, place_folder, other), folder, place_folder)
ON_TWO(link, "link", (const char *file, const char *other), (file, other), AT_FDCWD, AT_FDCWD)
ON_TWO(linkat, "link", (int folder, const char *file, int place_folder, const char *other, int flags),
       (folder, file, place_folder, other, flags), folder, place_folder)

static int opened(const char *name, int folder, const char *file, int flags, mode_t mode) {
    static int (*real)(int, const char *, int, ...);
    if (!real) real = (__typeof__(real))dlsym(RTLD_NEXT, "openat64");
    (void)name;
    char path[4096];
    if (!(flags & (O_CREAT | O_TRUNC)) || (flags & O_TMPFILE) == O_TMPFILE ||
        !of_path(folder, file, path))
        return real(folder, file, flags, mode);
    struct stat before;
    int there = !lstat(path, &before);
    if (there && !(flags & O_TRUNC)) return real(folder, file, flags, mode);
    dies(0);
    int done = real(folder, file, flags, mode);
    if (done >= 0) note(there ? "cut" : "make", path, "", there ? 0 : mode, NULL, 0);
    return done;
}

static mode_t mode_of(int flags, va_list rest) {
    return (flags & (O_CREAT | O_TMPFILE)) ? (mode_t)va_arg(rest, int) : 0;
}

#define OPEN(name) \
    int name(const char *file, int flags, ...) { \
        va_list rest; \
        va_start(rest, flags); \
        mode_t mode = mode_of(flags, rest); \
        va_end(rest); \
        return opened(#name, AT_FDCWD, file, flags, mode); \
    }
#define OPENAT(name) \
    int name(int folder, const char *file, int flags, ...) { \
        va_list rest; \
        va_start(rest, flags); \
        mode_t mode = mode_of(flags, rest); \
        va_end(rest); \
        return opened(#name, folder, file, flags, mode); \
    }
OPEN(open)
OPEN(open64)
OPENAT(openat)
OPENAT(openat64)

FILE *fopen64(const char *file, const char *how) {
    REAL(fopen64);
    char path[4096];
    if (how[0] != 'r' && of_path(AT_FDCWD, file, path)) {
        dies(0);
        note("make", path, "", 0644, NULL, 0);
    }
    return real(file, how);
}

int clock_gettime(clockid_t clock, struct timespec *now) {
    REAL(clock_gettime);
    if (held_at && clock == CLOCK_REALTIME) {
        now->tv_sec = (time_t)held_at;
        now->tv_nsec = 0;
        return 0;
    }
    return real(clock, now);
}

int gettimeofday(struct timeval *restrict now, void *restrict zone) {
    static int (*real)(struct timeval *, void *);
    if (!real) real = (__typeof__(real))dlsym(RTLD_NEXT, "gettimeofday");
    if (held_at) {
        now->tv_sec = (time_t)held_at;
        now->tv_usec = 0;
        return 0;
    }
    return real(now, zone);
}

time_t time(time_t *into) {
    struct timespec now;
    clock_gettime(CLOCK_REALTIME, &now);
    if (into) *into = now.tv_sec;
    return now.tv_sec;
}
