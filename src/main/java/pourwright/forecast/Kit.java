package pourwright.forecast;

import pourwright.kettle.Kettle;
import pourwright.kettle.Room;

/** What a brew is made with and where. */
public record Kit(Dripper dripper, Kettle kettle, Room room, Filling filling, Limits limits) {
  public static final Kit USUAL =
      new Kit(Dripper.CONE, Kettle.USUAL, Room.USUAL, Filling.USUAL, Limits.USUAL);
}
