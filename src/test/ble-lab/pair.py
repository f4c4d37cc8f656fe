#!/usr/bin/python3
"""Pairs one radio with one device, with nobody asked on either side: pair.py RADIO ADDRESS"""
import sys
import time

import dbus
import dbus.mainloop.glib
import dbus.service
from gi.repository import GLib

AGENT = "/brewing/agent"
LIMIT_S = 120
TRY_S = 25


class Agent(dbus.service.Object):
    """Says yes to whatever either side's Bluetooth asks."""

    @dbus.service.method("org.bluez.Agent1", in_signature="ou")
    def RequestConfirmation(self, device, passkey):
        pass

    @dbus.service.method("org.bluez.Agent1", in_signature="o")
    def RequestAuthorization(self, device):
        pass

    @dbus.service.method("org.bluez.Agent1")
    def Cancel(self):
        pass


def main():
    radio, address = sys.argv[1:3]
    dbus.mainloop.glib.DBusGMainLoop(set_as_default=True)
    bus = dbus.SystemBus()
    agent = Agent(bus, AGENT)
    manager = dbus.Interface(bus.get_object("org.bluez", "/org/bluez"), "org.bluez.AgentManager1")
    manager.RegisterAgent(AGENT, "NoInputNoOutput")
    manager.RequestDefaultAgent(AGENT)
    adapter = dbus.Interface(bus.get_object("org.bluez", "/org/bluez/" + radio), "org.bluez.Adapter1")
    loop, end, result = GLib.MainLoop(), time.monotonic() + LIMIT_S, ["not found"]
    path = "/org/bluez/%s/dev_%s" % (radio, address.replace(":", "_"))

    def failed(device, why):
        """An attempt that begins while an older connection ends may never be answered: end both, try again."""
        result[0] = str(why)
        print("pair: once more after:", why, flush=True)
        for end_it in (device.CancelPairing, device.Disconnect):
            try:
                end_it(timeout=TRY_S)
            except dbus.DBusException as none:
                print("pair:", none, flush=True)
        GLib.timeout_add(1000, attempt)

    def done():
        result[0] = "paired"
        loop.quit()

    def attempt():
        if time.monotonic() > end:
            loop.quit()
            return False
        objects = dbus.Interface(bus.get_object("org.bluez", "/"),
                                 "org.freedesktop.DBus.ObjectManager").GetManagedObjects()
        if path not in objects:
            return True
        device = dbus.Interface(bus.get_object("org.bluez", path), "org.bluez.Device1")
        device.Pair(reply_handler=done, error_handler=lambda why: failed(device, why), timeout=TRY_S)
        return False

    adapter.StartDiscovery()
    GLib.timeout_add(500, attempt)
    loop.run()
    print("pair:", result[0], flush=True)
    assert agent
    return 0 if result[0] == "paired" else 1


if __name__ == "__main__":
    sys.exit(main())
