/*
 * Counts what a program asks of the disk. Preloaded, it stands before fsync and fdatasync,
 * adds one to the eight bytes at the start of the file FSYNC_COUNT and, where FSYNC_DELAY_US is
 * set, waits so long, as a slower disk would.
 */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <fcntl.h>
#include <stdint.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <unistd.h>

static uint64_t *count;
static long delay;

__attribute__((constructor)) static void start(void) {
    const char *path = getenv("FSYNC_COUNT"), *wait = getenv("FSYNC_DELAY_US");
    delay = wait ? atol(wait) : 0;
    int file = path ? open(path, O_RDWR | O_CREAT, 0600) : -1;
    if (file < 0 || ftruncate(file, sizeof *count)) return;
    void *page = mmap(NULL, sizeof *count, PROT_READ | PROT_WRITE, MAP_SHARED, file, 0);
    if (page != MAP_FAILED) count = page;
    close(file);
}

static void note(void) {
    if (count) __atomic_add_fetch(count, 1, __ATOMIC_RELAXED);
    if (delay) usleep(delay);
}

int fsync(int file) {
    static int (*real)(int);
    if (!real) real = dlsym(RTLD_NEXT, "fsync");
    note();
    return real(file);
}

int fdatasync(int file) {
    static int (*real)(int);
    if (!real) real = dlsym(RTLD_NEXT, "fdatasync");
    note();
    return real(file);
}
