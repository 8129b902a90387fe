/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The lock of wholestem-decoder, tried from inside: each attempt in a process of its own, which tells by its end. */
#define _GNU_SOURCE  /* memfd_create */
#include "ws-confine.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

static int memory_file;
/* Built with the address sanitizer, which the limit of address space must leave alone. */
#if defined __SANITIZE_ADDRESS__
static const gboolean sanitized = TRUE;
#else
static const gboolean sanitized = FALSE;
#endif

/* Returns 0 when the attempt was refused as it should be. */
typedef int (*Attempt) (void);

static int
try_compute (void)
{
  char *memory = malloc (50 * 1000 * 1000);
  struct timespec now;
  int result = memory != NULL && clock_gettime (CLOCK_MONOTONIC, &now) == 0 ? 0 : 1;

  if (memory != NULL)
    memset (memory, 1, 50 * 1000 * 1000);
  free (memory);
  return result;
}

static gpointer
thread_main (gpointer unused)
{
  return GINT_TO_POINTER (7);
}

static int
try_thread (void)
{
  GThread *thread = g_thread_try_new ("inside", thread_main, NULL, NULL);

  return thread != NULL && GPOINTER_TO_INT (g_thread_join (thread)) == 7 ? 0 : 1;
}

static int
try_write (void)
{
  return pwrite (memory_file, "abc", 3, 0) == 3 ? 0 : 1;
}

static int
try_open (void)
{
  return open ("/etc/passwd", O_RDONLY) < 0 && errno == EPERM ? 0 : 1;
}

static int
try_socket (void)
{
  return socket (AF_INET, SOCK_STREAM, 0) < 0 && errno == EPERM ? 0 : 1;
}

static int
try_unlink (void)
{
  return unlink ("/nowhere/at/all") < 0 && errno == EPERM ? 0 : 1;
}

static int
try_kill (void)
{
  return kill (getppid (), 0) < 0 && errno == EPERM ? 0 : 1;
}

static int
try_exec (void)
{
  execl ("/bin/true", "true", NULL);
  return 1;
}

static int
try_fork (void)
{
  return fork () == 0 ? 0 : 1;
}

static int
try_file_size (void)
{
  return ftruncate (memory_file, 3 * 1000 * 1000) == 0 ? 1 : 0;
}

static int
try_time (void)
{
  for (volatile guint64 i = 0; ; i++)
    continue;
  return 1;
}

static int
try_memory (void)
{
  return mmap (NULL, (gsize) 5 << 30, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0) == MAP_FAILED ? 0 : 1;
}

static int
run_confined (Attempt attempt)
{
  int status = 0;
  pid_t pid = fork ();

  g_assert_cmpint (pid, >=, 0);
  if (pid == 0)
    {
      if (!ws_confine_limits (1, G_GUINT64_CONSTANT (4000000000), 2000000) || !ws_confine_calls ())
        _exit (99);
      _exit (attempt ());
    }
  g_assert_cmpint (waitpid (pid, &status, 0), ==, pid);
  return status;
}

static void
test_attempts (void)
{
  static const struct { const char *name; Attempt attempt; int signal; } attempts[] = {
    { "compute", try_compute, 0 }, { "thread", try_thread, 0 }, { "write", try_write, 0 },
    { "open a file", try_open, 0 }, { "socket", try_socket, 0 }, { "unlink", try_unlink, 0 }, { "kill", try_kill, 0 },
    { "start a program", try_exec, SIGSYS }, { "fork", try_fork, SIGSYS },
    { "a large file", try_file_size, SIGXFSZ }, { "time", try_time, SIGXCPU },
  };

  g_test_summary ("Inside the lock: computing and threads go, files and sockets are refused, a new program or process, "
                  "too large a file and too long a time are the end");
  memory_file = memfd_create ("test", MFD_CLOEXEC);
  for (guint i = 0; i < G_N_ELEMENTS (attempts); i++)
    {
      int status = run_confined (attempts[i].attempt);

      g_test_message ("%s: %d", attempts[i].name, status);
      g_assert_cmpint (WIFSIGNALED (status) ? WTERMSIG (status) : 0, ==, attempts[i].signal);
      if (attempts[i].signal == 0)
        g_assert_cmpint (WEXITSTATUS (status), ==, 0);
    }
  close (memory_file);
}

static void
test_memory (void)
{
  g_test_summary ("More memory than allowed is not given");
  if (sanitized)
    {
      g_test_skip ("limit of address space: left out with the address sanitizer");
      return;
    }
  g_assert_cmpint (run_confined (try_memory), ==, 0);
}

static void
test_parent_gone (void)
{
  int ends[2];
  char byte;
  pid_t pid;

  g_test_summary ("When the parent ends, the confined process ends too");
  g_assert_cmpint (pipe (ends), ==, 0);
  pid = fork ();
  if (pid == 0)
    {
      close (ends[0]);
      if (fork () == 0)
        {
          if (!ws_confine_limits (60, G_GUINT64_CONSTANT (4000000000), 2000000) || write (ends[1], "r", 1) != 1)
            _exit (1);
          for (;;)
            pause ();
        }
      sleep (30);
      _exit (0);
    }
  close (ends[1]);
  g_assert_cmpint (read (ends[0], &byte, 1), ==, 1);
  g_assert_cmpint (kill (pid, SIGKILL), ==, 0);
  g_assert_cmpint (waitpid (pid, NULL, 0), ==, pid);
  /* The last writing end of the pipe goes with the grandchild; if it lived on this would wait until the test is stopped. */
  g_assert_cmpint (read (ends[0], &byte, 1), ==, 0);
  close (ends[0]);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/photo/confine/attempts", test_attempts);
  g_test_add_func ("/photo/confine/memory", test_memory);
  g_test_add_func ("/photo/confine/parent-gone", test_parent_gone);
  return g_test_run ();
}
