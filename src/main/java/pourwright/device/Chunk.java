package pourwright.device;

import pourwright.units.SessionTime;

/**
 * Bytes that came up a link together.
 *
 * @param at when they arrived, read from the clock before anything was decoded
 * @param bytes at least one
 */
public record Chunk(SessionTime at, Bytes bytes) {}
