/* Preloaded (LD_PRELOAD) into a program under test: the N-th call that changes files fails, or is the last thing
 * that the program does. So every moment at which a program can be ended, or a disk be full, is tried in turn
 * instead of waited for.
 *
 *   FAIL_AT=N     at the N-th such call, from 1 on; 0 counts only
 *   FAIL_HOW=     kill: the process is killed just before the call; else the number of the error, such as 28,
 *                 with which this call and all later ones that need room fail
 *   FAIL_LOG=FILE the number of calls, written at a regular end; not counted itself
 *
 * Counted are calls that change what is on the disk; writing to a terminal, a pipe or a special file is not. Under
 * `kill`, half of a text is written before the end, for writes are what is cut. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdarg.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/types.h>
#include <sys/uio.h>
#include <unistd.h>

static atomic_long calls;
static long fail_at;
static int error_number; /* 0: kill */

#define REAL(name) ((__typeof__(&name))dlsym(RTLD_NEXT, #name))

__attribute__((constructor)) static void begin(void) {
  const char *at = getenv("FAIL_AT");
  const char *how = getenv("FAIL_HOW");
  fail_at = at ? atol(at) : 0;
  error_number = how && strcmp(how, "kill") != 0 ? atoi(how) : 0;
}

__attribute__((destructor)) static void end(void) {
  const char *path = getenv("FAIL_LOG");
  char text[32];
  int file, length;
  if (!path) return;
  file = REAL(open)(path, O_WRONLY | O_CREAT | O_TRUNC, 0666);
  length = snprintf(text, sizeof text, "%ld\n", (long)calls);
  if (file >= 0 && REAL(write)(file, text, (size_t)length) == length) REAL(close)(file);
}

/* 1 where this call is to fail. `needs_room`: it can fail for want of room. */
static int fails(int needs_room) {
  long number;
  if (error_number && !needs_room) return 0;
  number = ++calls;
  if (fail_at == 0 || number < fail_at) return 0;
  if (error_number == 0) {
    if (number == fail_at) kill(getpid(), SIGKILL);
    return 0;
  }
  errno = error_number;
  return 1;
}

static int plain(int file) {
  struct stat status;
  return file >= 0 && fstat(file, &status) == 0 && S_ISREG(status.st_mode);
}

ssize_t write(int file, const void *text, size_t size) {
  if (plain(file)) {
    if (error_number == 0 && fail_at != 0 && calls + 1 == fail_at && size > 1) REAL(write)(file, text, size / 2);
    if (fails(1)) return -1;
  }
  return REAL(write)(file, text, size);
}

ssize_t writev(int file, const struct iovec *parts, int count) {
  if (plain(file) && fails(1)) return -1;
  return REAL(writev)(file, parts, count);
}

int fsync(int file) { return fails(1) ? -1 : REAL(fsync)(file); }
int fchmod(int file, mode_t mode) { return fails(0) ? -1 : REAL(fchmod)(file, mode); }
int mkstemp(char *name) { return fails(1) ? -1 : REAL(mkstemp)(name); }
int mkstemps(char *name, int end_length) { return fails(1) ? -1 : REAL(mkstemps)(name, end_length); }
int mkdir(const char *path, mode_t mode) { return fails(1) ? -1 : REAL(mkdir)(path, mode); }
int rename(const char *from, const char *to) { return fails(1) ? -1 : REAL(rename)(from, to); }
int renameat2(int from_folder, const char *from, int to_folder, const char *to, unsigned flags) {
  return fails(1) ? -1 : REAL(renameat2)(from_folder, from, to_folder, to, flags);
}
int link(const char *from, const char *to) { return fails(1) ? -1 : REAL(link)(from, to); }
int unlink(const char *path) { return fails(0) ? -1 : REAL(unlink)(path); }
int unlinkat(int folder, const char *path, int flags) { return fails(0) ? -1 : REAL(unlinkat)(folder, path, flags); }
int remove(const char *path) { return fails(0) ? -1 : REAL(remove)(path); }

static int makes(int flags) { return (flags & O_CREAT) != 0; }

int open(const char *path, int flags, ...) {
  mode_t mode = 0;
  if (makes(flags)) {
    va_list more;
    va_start(more, flags);
    mode = (mode_t)va_arg(more, int);
    va_end(more);
    if (fails(1)) return -1;
  }
  return REAL(open)(path, flags, mode);
}

FILE *fopen(const char *path, const char *how) {
  return how[0] != 'r' && fails(1) ? NULL : REAL(fopen)(path, how);
}
FILE *fopen64(const char *path, const char *how) {
  return how[0] != 'r' && fails(1) ? NULL : REAL(fopen64)(path, how);
}
