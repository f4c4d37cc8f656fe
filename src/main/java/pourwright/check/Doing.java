package pourwright.check;

import pourwright.performance.Plateau;

/**
 * What a check is doing. Each state answers every reading; what it needs beside is on the {@link
 * Bench}, and nothing else remembers anything.
 */
sealed interface Doing {
  /** The newest reading is on the pan. */
  Doing on(Bench bench);

  Stage stage();

  /** What a new resting weight is to be taken for. */
  sealed interface Goal {
    /** What was asked. */
    record Asked() implements Goal {}

    /** After the drips: where the weight came to rest. */
    record Dripped(int from, int to) implements Goal {}

    /** Back to the weight before something wrong was done (g). */
    record Undone(double grams) implements Goal {}

    /** The scale was gone: is this still the weight it was? */
    record Returned(Plateau before, Goal interrupted) implements Goal {}

    /** Everything off. */
    record Cleared() implements Goal {}
  }

  /** Nothing moved yet; {@code level} is the weight since the last step. */
  record Waiting(Goal goal, Plateau level) implements Doing {
    @Override
    public Doing on(Bench bench) {
      bench.count();
      if (!bench.hasLeft(level.grams())) {
        return this;
      }
      return new Settling(goal, level, bench.leftAt(level.grams()), bench.now(), 0);
    }

    @Override
    public Stage stage() {
      return goal instanceof Goal.Asked ? Stage.WAITING : Stage.UNDOING;
    }
  }

  /**
   * The weight moves.
   *
   * @param movedAt first reading of the change
   * @param since when this began or was last complained of (s)
   * @param disturbances so far in this step
   */
  record Settling(Goal goal, Plateau level, int movedAt, double since, int disturbances)
      implements Doing {
    private static final double PATIENCE_SECONDS = 12;

    @Override
    public Doing on(Bench bench) {
      if (bench.pan().isSteady(movedAt)) {
        return new Measuring(goal, level, movedAt, bench.pan().size(), disturbances);
      }
      if (bench.now() - since > PATIENCE_SECONDS) {
        bench.tellUnsteady();
        return new Settling(goal, level, movedAt, bench.now(), disturbances + 1);
      }
      return this;
    }

    @Override
    public Stage stage() {
      return Stage.SETTLING;
    }
  }

  /**
   * At rest; measured from the reading {@code from} on.
   *
   * @param movedAt first reading of the change before
   */
  record Measuring(Goal goal, Plateau level, int movedAt, int from, int disturbances)
      implements Doing {
    private static final double SECONDS = 1.5;
    private static final int LEAST_READINGS = 8;

    @Override
    public Doing on(Bench bench) {
      int count = bench.pan().size() - from;
      if (count < 3) {
        return this;
      }
      Plateau measured = bench.pan().plateau(from);
      if (Math.abs(bench.pan().newest() - measured.grams()) > bench.pan().threshold()) {
        bench.tellTouched();
        return new Settling(goal, level, movedAt, bench.now(), disturbances + 1);
      }
      if (count < LEAST_READINGS || measured.to() - measured.from() < SECONDS) {
        return this;
      }
      if (bench.isRestless(measured)) {
        bench.tellUnsteady();
        return new Settling(goal, level, movedAt, bench.now(), disturbances + 1);
      }
      return bench.judge(goal, level, measured, movedAt, disturbances == 0);
    }

    @Override
    public Stage stage() {
      return Stage.MEASURING;
    }
  }

  /**
   * A wait: nothing is to change, or water drips.
   *
   * @param from first reading of it
   * @param seconds how long (s)
   * @param repeats how often it began anew because the table shook
   */
  record Timed(Plateau level, int from, double startedAt, double seconds, int repeats)
      implements Doing {
    private static final int MOST_REPEATS = 3;

    @Override
    public Goal goal() {
      return new Goal.Asked();
    }

    @Override
    public Doing on(Bench bench) {
      if (bench.isTouched(level.grams())) {
        bench.tellTouched();
        return new Settling(
            new Goal.Asked(), level, bench.pan().size() - 1, bench.now(), repeats + 1);
      }
      if (bench.now() - startedAt < seconds) {
        return this;
      }
      if (bench.isDripping()) {
        bench.tellStopDripping();
        Goal dripped = new Goal.Dripped(from, bench.pan().size());
        return new Settling(dripped, level, bench.pan().size(), bench.now(), 0);
      }
      if (repeats < MOST_REPEATS && bench.isRestlessWait(from)) {
        bench.tellUnsteady();
        return new Timed(level, bench.pan().size(), bench.now(), seconds, repeats + 1);
      }
      return bench.waited(level, from);
    }

    @Override
    public Stage stage() {
      return Stage.MEASURING;
    }
  }

  /** No readings come; {@code level} is the weight before. */
  record Blind(Goal goal, Plateau level) implements Doing {
    @Override
    public Doing on(Bench bench) {
      return new Settling(
          new Goal.Returned(level, goal), level, bench.pan().size() - 1, bench.now(), 0);
    }

    @Override
    public Stage stage() {
      return Stage.BLIND;
    }
  }

  /** All asks are done. */
  record Done(Plateau level) implements Doing {
    @Override
    public Goal goal() {
      return new Goal.Asked();
    }

    @Override
    public Doing on(Bench bench) {
      return this;
    }

    @Override
    public Stage stage() {
      return Stage.DONE;
    }
  }

  /** What the next resting weight is for. */
  Goal goal();

  /** The weight since the last step. */
  Plateau level();
}
