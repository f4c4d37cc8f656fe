#!/usr/bin/python3
"""Processor time of a process and its threads: cpu.py PID SECONDS [AT_LEAST_MS]"""
import os
import sys
import time


def times(pid):
    spent = {}
    for thread in os.listdir("/proc/%s/task" % pid):
        try:
            with open("/proc/%s/task/%s/stat" % (pid, thread)) as stat:
                head, fields = stat.read().rsplit(")", 1)
        except FileNotFoundError:
            continue
        ticks = sum(int(field) for field in fields.split()[11:13])
        spent[thread, head.split("(", 1)[1]] = ticks * 1000 // os.sysconf("SC_CLK_TCK")
    return spent


def main():
    pid, seconds = sys.argv[1], float(sys.argv[2])
    least = int(sys.argv[3]) if len(sys.argv) > 3 else 100
    before = times(pid)
    time.sleep(seconds)
    used = {key: spent - before.get(key, 0) for key, spent in times(pid).items()}
    print("processor %d ms in %g s" % (sum(used.values()), seconds))
    for (_, name), spent in sorted(used.items(), key=lambda one: -one[1]):
        if spent >= least:
            print("  %6d ms %s" % (spent, name))
    sys.stdout.flush()


if __name__ == "__main__":
    main()
