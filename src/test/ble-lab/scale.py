#!/usr/bin/python3
"""A Bluetooth LE scale, played through BlueZ's GattManager1 on one radio.

It has one serial-like service with one characteristic that notifies a weight at a steady rate.

text      one line per reading ("  +123.45 g") of a brew that starts when it is listened to for the
          first time and goes on whether or not anyone listens: rest, three pours, the lift of the
          dripper, rest.
numbered  twelve bytes, low byte first: weight, number since the subscription began, microseconds
          of the monotonic clock, so that a receiver can tell what is missing and how late it is.

SIGUSR1 is its off switch: it closes its links, sends nothing and announces nothing; SIGUSR2 is on.
It tells on standard output what it does.
"""
import argparse
import signal
import struct
import sys
import time

import dbus
import dbus.mainloop.glib
import dbus.service
from gi.repository import GLib

SERVICE = "5ca1e000-1ab0-4b1e-9f00-00000000f00d"
WEIGHT = "5ca1e001-1ab0-4b1e-9f00-00000000f00d"
PROPS = "org.freedesktop.DBus.Properties"
OBJECTS = "org.freedesktop.DBus.ObjectManager"
CHARACTERISTIC = "org.bluez.GattCharacteristic1"
DEVICE = "org.bluez.Device1"
ROOT = "/brewing/scale"

# Virtual radios report an advertisement only when it starts, so it starts often.
ANNOUNCE_MS = 1000

# start of the pour (s), water (g), flow (g/s)
POURS = [(10.0, 40.0, 5.0), (30.0, 60.0, 5.0), (60.0, 50.0, 5.0)]
LIFT_AT, LIFTED_G, LIFT_S = 84.0, 300.0, 0.4


def grams(t):
    water = sum(min(max(0.0, (t - start) * flow), mass) for start, mass, flow in POURS)
    gone = LIFTED_G * min(max(0.0, (t - LIFT_AT) / LIFT_S), 1.0)
    return water - gone


def say(*words):
    print(*words, flush=True)


class Exported(dbus.service.Object):
    def __init__(self, bus, path, interface, props):
        super().__init__(bus, path)
        self.interface, self.props, self.path = interface, props, path

    @dbus.service.method(PROPS, in_signature="s", out_signature="a{sv}")
    def GetAll(self, interface):
        return self.props if interface == self.interface else {}

    @dbus.service.signal(PROPS, signature="sa{sv}as")
    def PropertiesChanged(self, interface, changed, invalidated):
        pass


class Weight(Exported):
    """Sends readings on a fixed grid while it is listened to."""

    def __init__(self, bus, path, props, args):
        super().__init__(bus, path, CHARACTERISTIC, props)
        self.args, self.listeners_since, self.brew_since = args, None, None
        self.is_on, self.timer, self.sent = True, None, 0

    @dbus.service.method(CHARACTERISTIC)
    def StartNotify(self):
        now = time.monotonic()
        if self.brew_since is None:
            self.brew_since = now
            say("brew starts")
            if self.args.away:
                GLib.timeout_add(round(self.args.away[0] * 1000), self.once, signal.SIGUSR1)
                GLib.timeout_add(round(sum(self.args.away) * 1000), self.once, signal.SIGUSR2)
        self.rest()
        self.listeners_since, self.sent = now, 0
        self.tick()

    @dbus.service.method(CHARACTERISTIC)
    def StopNotify(self):
        self.rest()

    @staticmethod
    def once(number):
        signal.raise_signal(number)
        return False

    def rest(self):
        if self.timer:
            GLib.source_remove(self.timer)
        self.timer = None

    def tick(self):
        now = time.monotonic()
        if self.is_on:
            weight = grams(now - self.brew_since)
            if self.args.payload == "text":
                value = b"%+9.2f g\r\n" % weight
            else:
                value = struct.pack(
                    "<iII", round(weight * 100), self.sent, time.monotonic_ns() // 1000 & 0xFFFFFFFF)
            self.PropertiesChanged(CHARACTERISTIC, {"Value": dbus.ByteArray(value)}, [])
        self.sent += 1
        due = self.listeners_since + self.sent / self.args.rate - time.monotonic()
        self.timer = GLib.timeout_add(max(0, round(due * 1000)), self.tick)
        return False


class Advert(Exported):
    @dbus.service.method("org.bluez.LEAdvertisement1")
    def Release(self):
        pass


class Radio:
    """Announces the scale while it is on and nobody is connected to it."""

    def __init__(self, bus, name, advert):
        self.bus, self.path, self.advert = bus, "/org/bluez/" + name, advert
        self.adapter = bus.get_object("org.bluez", self.path)
        self.adverts = dbus.Interface(self.adapter, "org.bluez.LEAdvertisingManager1")
        self.is_on, self.is_busy, self.is_announced, self.links = True, False, False, set()
        bus.add_signal_receiver(
            self.changed, "PropertiesChanged", PROPS, "org.bluez", path_keyword="path")
        GLib.timeout_add(ANNOUNCE_MS, self.announce)

    def connected(self):
        tree = dbus.Interface(self.bus.get_object("org.bluez", "/"), OBJECTS).GetManagedObjects()
        return {path for path, faces in tree.items()
                if path.startswith(self.path + "/") and faces.get(DEVICE, {}).get("Connected")}

    def changed(self, interface, values, invalidated, path):
        if interface == DEVICE and path.startswith(self.path + "/") and "Connected" in values:
            (self.links.add if values["Connected"] else self.links.discard)(path)

    def close_links(self):
        for path in self.connected():
            dbus.Interface(self.bus.get_object("org.bluez", path), DEVICE).Disconnect(
                reply_handler=lambda: None, error_handler=lambda e: None)

    def settled(self, is_announced):
        self.is_busy, self.is_announced = False, is_announced

    def announce(self):
        if self.is_busy:
            return True
        if self.is_announced:
            self.is_busy = True
            self.adverts.UnregisterAdvertisement(
                self.advert.path, reply_handler=lambda: self.settled(False),
                error_handler=lambda e: self.settled(False))
        elif self.is_on and not self.links:
            self.is_busy = True
            self.adverts.RegisterAdvertisement(
                self.advert.path, {}, reply_handler=lambda: self.settled(True),
                error_handler=lambda e: self.settled(False))
        return True


def main():
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--radio", default="hci1")
    parser.add_argument("--rate", type=float, default=20, help="readings a second")
    parser.add_argument("--payload", choices=("text", "numbered"), default="numbered")
    parser.add_argument("--away", type=float, nargs=2, metavar=("AT", "FOR"),
                        help="switch off at AT seconds of the brew, for FOR seconds")
    parser.add_argument("--encrypted", action="store_true",
                        help="tell weights only to who is paired")
    args = parser.parse_args()
    dbus.mainloop.glib.DBusGMainLoop(set_as_default=True)
    bus = dbus.SystemBus()
    flag = "encrypt-notify" if args.encrypted else "notify"
    service = Exported(bus, ROOT + "/s", "org.bluez.GattService1", {"UUID": SERVICE, "Primary": True})
    weight = Weight(bus, ROOT + "/s/w", {
        "Service": dbus.ObjectPath(ROOT + "/s"), "UUID": WEIGHT,
        "Flags": dbus.Array([flag], signature="s")}, args)
    advert = Advert(bus, ROOT + "/advert", "org.bluez.LEAdvertisement1", {
        "Type": "peripheral", "LocalName": "Brewing Scale", "Discoverable": dbus.Boolean(True),
        "ServiceUUIDs": dbus.Array([SERVICE], signature="s")})
    radio = Radio(bus, args.radio, advert)

    class Application(dbus.service.Object):
        @dbus.service.method(OBJECTS, out_signature="a{oa{sa{sv}}}")
        def GetManagedObjects(self):
            return {dbus.ObjectPath(o.path): {o.interface: o.props} for o in (service, weight)}

    def switch(is_on):
        say("on" if is_on else "off")
        weight.is_on = radio.is_on = is_on
        if not is_on:
            radio.close_links()
        return True

    def registered():
        radio.links = radio.connected()
        say("ready")

    app = Application(bus, ROOT)
    assert app
    GLib.unix_signal_add(GLib.PRIORITY_HIGH, signal.SIGUSR1, switch, False)
    GLib.unix_signal_add(GLib.PRIORITY_HIGH, signal.SIGUSR2, switch, True)
    dbus.Interface(radio.adapter, "org.bluez.GattManager1").RegisterApplication(
        ROOT, {}, reply_handler=registered, error_handler=lambda e: sys.exit("failed: %s" % e))
    GLib.MainLoop().run()


if __name__ == "__main__":
    main()
