package pourwright.plan;

import pourwright.units.SessionTime;

/** Something to say to the judges at a time. */
public record TalkMark(SessionTime at, String say) {}
