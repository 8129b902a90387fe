/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _GNU_SOURCE  /* memfd_create, seals, clone */
#include "ws-confine.h"

#include <errno.h>
#include <sched.h>
#include <seccomp.h>
#include <signal.h>
#include <sys/prctl.h>
#include <sys/resource.h>

#if defined __SANITIZE_ADDRESS__
#define SANITIZED TRUE
#else
#define SANITIZED FALSE
#endif

static gboolean
set_limit (int resource, guint64 soft, guint64 hard)
{
  struct rlimit limit = { soft, hard };

  return setrlimit (resource, &limit) == 0;
}

gboolean
ws_confine_limits (guint seconds, guint64 memory, guint64 file_size)
{
  /* At the soft limit the kernel says SIGXCPU, which tells the parent why; a second later it kills. */
  return prctl (PR_SET_PDEATHSIG, SIGKILL) == 0 && prctl (PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) == 0 &&
         prctl (PR_SET_DUMPABLE, 0) == 0 && set_limit (RLIMIT_CORE, 0, 0) &&
         set_limit (RLIMIT_CPU, seconds, seconds + 1) && set_limit (RLIMIT_FSIZE, file_size, file_size) &&
         (SANITIZED || set_limit (RLIMIT_AS, memory, memory));
}

/* What computing needs: no call here reaches beyond the process and its open descriptors. */
static const int allowed[] = {
  SCMP_SYS (read), SCMP_SYS (pread64), SCMP_SYS (write), SCMP_SYS (pwrite64), SCMP_SYS (lseek), SCMP_SYS (ftruncate),
  SCMP_SYS (close), SCMP_SYS (fstat), SCMP_SYS (mmap), SCMP_SYS (munmap), SCMP_SYS (mremap), SCMP_SYS (mprotect),
  SCMP_SYS (madvise), SCMP_SYS (brk), SCMP_SYS (futex), SCMP_SYS (set_robust_list), SCMP_SYS (rseq),
  SCMP_SYS (sched_yield), SCMP_SYS (sched_getaffinity), SCMP_SYS (getpid), SCMP_SYS (gettid), SCMP_SYS (tgkill),
  SCMP_SYS (rt_sigaction), SCMP_SYS (rt_sigprocmask), SCMP_SYS (rt_sigreturn), SCMP_SYS (sigaltstack),
  SCMP_SYS (restart_syscall), SCMP_SYS (clock_gettime), SCMP_SYS (gettimeofday), SCMP_SYS (time),
  SCMP_SYS (nanosleep), SCMP_SYS (clock_nanosleep), SCMP_SYS (getrandom), SCMP_SYS (getrusage), SCMP_SYS (sysinfo),
  SCMP_SYS (uname), SCMP_SYS (exit), SCMP_SYS (exit_group),
};

/* No decoder has reason to try these: one that does has been taken over. */
static const int deadly[] = {
  SCMP_SYS (execve), SCMP_SYS (execveat), SCMP_SYS (fork), SCMP_SYS (vfork), SCMP_SYS (ptrace), SCMP_SYS (connect),
  SCMP_SYS (bind), SCMP_SYS (process_vm_readv), SCMP_SYS (process_vm_writev),
};

static gboolean
add_rules (scmp_filter_ctx filter)
{
  gboolean done = TRUE;

  for (gsize i = 0; done && i < G_N_ELEMENTS (allowed); i++)
    done = seccomp_rule_add (filter, SCMP_ACT_ALLOW, allowed[i], 0) == 0;
  for (gsize i = 0; done && i < G_N_ELEMENTS (deadly); i++)
    done = seccomp_rule_add (filter, SCMP_ACT_KILL_PROCESS, deadly[i], 0) == 0;
  /* Threads, not processes. The C library tries clone3(), whose flags a filter cannot see, and does without. */
  return done &&
         seccomp_rule_add (filter, SCMP_ACT_ALLOW, SCMP_SYS (clone), 1,
                           SCMP_A0 (SCMP_CMP_MASKED_EQ, CLONE_THREAD, CLONE_THREAD)) == 0 &&
         seccomp_rule_add (filter, SCMP_ACT_KILL_PROCESS, SCMP_SYS (clone), 1,
                           SCMP_A0 (SCMP_CMP_MASKED_EQ, CLONE_THREAD, 0)) == 0 &&
         seccomp_rule_add (filter, SCMP_ACT_ERRNO (ENOSYS), SCMP_SYS (clone3), 0) == 0;
}

gboolean
ws_confine_calls (void)
{
  scmp_filter_ctx filter = seccomp_init (SCMP_ACT_ERRNO (EPERM));
  gboolean done = filter != NULL && add_rules (filter) && seccomp_load (filter) == 0;

  if (filter != NULL)
    seccomp_release (filter);
  return done;
}
