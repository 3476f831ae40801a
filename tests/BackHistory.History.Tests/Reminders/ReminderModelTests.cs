using BackHistory.History.Horses;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;

namespace BackHistory.History.Tests.Reminders;

/// <summary>Random lives of one horse, lived by the real policy and deciders and by a reference machine of a page.</summary>
public sealed class ReminderModelTests(ITestOutputHelper output)
{
    private const int Schedules = 10_000;
    private const int Moves = 40;

    [Fact]
    public void Ten_thousand_random_schedules_end_as_the_reference_machine_says_after_every_move()
    {
        var raised = 0;
        for (var seed = 0; seed < Schedules; seed++)
        {
            var run = new Run(seed);
            for (var move = 0; move < Moves; move++)
                run.Move();
            raised += run.Raised;
        }

        output.WriteLine($"{Schedules} schedules, {Schedules * Moves} moves, {raised} reminders: 0 divergences");
        Assert.True(raised > Schedules, $"only {raised} reminders were raised: the schedules test nothing");
    }

    private sealed class Run
    {
        private readonly Random _random;
        private readonly int _seed;
        private readonly ModelWorld _world = new();
        private readonly ReferenceMachine _reference;
        private readonly Dictionary<Guid, Reminder> _reminders = [];
        private string _last = "start";

        public Run(int seed)
        {
            (_seed, _random) = (seed, new Random(seed));
            var shape = new RuleSetting(HoldDays: _random.Next(3) == 0 ? 7 : 0);
            var calendar = new RuleSetting(HoldDays: _random.Next(5) == 0 ? 3 : 0);
            _world.Rules = ReminderRules.Default with
            {
                ShapeChanged = shape,
                SidesUnlike = shape,
                CheckDue = calendar,
                NoVisit = calendar,
            };
            _world.Fits.Add(new SaddleFit(ModelWorld.SaddleId, _world.NewId(), null, _world.Now, true, false));
            _reference = new ReferenceMachine(_world);
            _world.Now = _world.Now.AddHours(1);
        }

        public int Raised => _reminders.Count;

        public void Move()
        {
            // Nothing in a real history happens twice in one tick.
            _world.Now = _world.Now.AddMinutes(1);
            var moves = new (string Name, Action Do)[]
            {
                ("time passes", () => _world.Now = _world.Now.AddDays(_random.Next(1, 60))),
                ("a day passes", () => _world.Now = _world.Now.AddDays(1)),
                ("the clock jumps a year", () => _world.Now = _world.Now.AddDays(_random.Next(30) == 0 ? 365 : 10)),
                ("the clock is put back", ClockBack),
                ("a visit", Visit),
                ("a visit", Visit),
                ("a visit entered late", LateVisit),
                ("the saddle is set", Work),
                ("a visit is withdrawn", Withdraw),
                (
                    "a lay-off begins",
                    () =>
                        _world.Care.Add(
                            new CareSpan(_world.NewId(), CareKind.LayOff, _world.Today, _world.Today.AddDays(_random.Next(5, 90)))
                        )
                ),
                ("the vet has seen it", () => _world.Care.Add(new CareSpan(_world.NewId(), CareKind.Veterinary, _world.Today, null))),
                ("the vet has cleared it", Clear),
                ("put off", PutOff),
                ("booked", Book),
                ("closed", Close),
                ("answered", Answer),
                ("the post goes", Post),
                ("the post goes", Post),
                ("a rule is switched", Switch),
            };
            var (name, act) = moves[_random.Next(moves.Length)];
            _last = name;
            act();
            Evaluate();
            _reference.Settle();
            Compare();
        }

        private void ClockBack() => _world.Now = _world.Now.AddMinutes(-_random.Next(0, 2));

        private void Visit() =>
            _world.Visits.Add(new ModelVisit(_world.NewId(), _world.Now, _world.Now, _random.Next(3) == 0, _random.Next(6) == 0));

        private void LateVisit()
        {
            var from = _world.Last?.TakenAt ?? _world.Fit.TakenAt;
            var at = from + (_world.Now - from) / 2;
            if (at > from)
                _world.Visits.Add(new ModelVisit(_world.NewId(), at, _world.Now, _random.Next(3) == 0, false));
        }

        private void Work()
        {
            _world.Fits.Add(new SaddleFit(ModelWorld.SaddleId, _world.NewId(), null, _world.Now, true, false));
            _world.Now = _world.Now.AddSeconds(1);
        }

        private void Withdraw()
        {
            if (_world.Last is not { } last)
                return;
            _world.Visits[_world.Visits.IndexOf(last)] = last with { Withdrawn = true };
            _world.LastCorrection = _world.Now;
        }

        private void Switch()
        {
            var on = _random.Next(4) != 0;
            _world.Rules =
                _random.Next(2) == 0
                    ? _world.Rules with
                    {
                        ShapeChanged = _world.Rules.ShapeChanged with { On = on },
                        SidesUnlike = _world.Rules.SidesUnlike with { On = on },
                    }
                    : _world.Rules with
                    {
                        CheckDue = _world.Rules.CheckDue with { On = on },
                        NoVisit = _world.Rules.NoVisit with { On = on },
                    };
        }

        private void PutOff() =>
            OnOne(
                (r, item) =>
                {
                    var until = _world.Today.AddDays(_random.Next(1, 40));
                    Take(r.Id, x => ReminderDecider.Decide(x, new PutOffReminder(until, "later", Guid.Empty), _world.Today, _world.Now));
                    (item.Own, item.Until) = (ReminderState.PutOff, until);
                }
            );

        private void Book() =>
            OnOne(
                (r, item) =>
                {
                    var on = _world.Now.AddDays(_random.Next(1, 40));
                    Take(r.Id, x => ReminderDecider.Decide(x, new BookVisit(_world.NewId(), on, Guid.Empty), _world.Now));
                    (item.Own, item.Booked, item.Until) = (ReminderState.Booked, on, null);
                }
            );

        private void Close() =>
            OnOne(
                (r, item) =>
                {
                    Take(r.Id, x => ReminderDecider.Decide(x, new CloseReminder("not needed", Guid.Empty), _world.Now));
                    _reference.Close(item.Family);
                }
            );

        private void Clear()
        {
            var caution =
                _reminders.Values.FirstOrDefault(r =>
                    !r.Over && Families.FamilyOf(r.Rule) == ReminderFamily.Vet && r.State != ReminderState.Pending
                ) ?? ReminderPolicy.AwaitsVet(_reminders.Values);
            if (caution is null)
                return;
            Take(caution.Id, x => ReminderDecider.Decide(x, new ClearByVet(Guid.Empty, "She said so."), _world.Now));
            _reference.Cleared();
        }

        private void Answer() =>
            OnOne(
                (r, item) =>
                {
                    Take(
                        r.Id,
                        x => ReminderDecider.Decide(x, new AnswerReminder(Answers.Offered(r.Rule)[0], null, Guid.Empty), _world.Now)
                    );
                    item.Answered = true;
                }
            );

        /// <summary>People act on what they can see: nothing that is still pending.</summary>
        private void OnOne(Action<Reminder, ReferenceMachine.Item> act)
        {
            var open = _reminders.Values.Where(r => !r.Over && r.State != ReminderState.Pending).OrderBy(r => r.Id).ToList();
            if (open.Count == 0)
                return;
            var one = open[_random.Next(open.Count)];
            act(one, _reference.Items[Families.FamilyOf(one.Rule)]);
        }

        private void Post()
        {
            foreach (
                var (r, l) in _reminders
                    .Values.SelectMany(r => r.Post.Select(l => (r, l)))
                    .Where(x => x.l.State is LetterState.Owed or LetterState.Deferred)
                    .ToList()
            )
            {
                if (LetterGate.Waits(r, l.Kind))
                    continue;
                var item = r.Over ? null : _reference.Items[Families.FamilyOf(r.Rule)];
                if (LetterGate.NotNeeded(r, l.LetterId, l.Kind) is { } why)
                {
                    Take(r.Id, x => ReminderDecider.Decide(x, new GiveUpLetter(l.LetterId, why, Guid.Empty), _world.Now));
                    continue;
                }

                var finding = l.Kind != LetterKind.NoAnswer && l == r.Post.Last(p => p.Kind != LetterKind.NoAnswer);
                switch (_random.Next(10))
                {
                    case < 3:
                        Take(
                            r.Id,
                            x =>
                                ReminderDecider.Decide(
                                    x,
                                    new NoteDelivery(l.LetterId, DeliveryWord.Deferred, "451", Guid.Empty),
                                    _world.Now
                                )
                        );
                        break;
                    case < 4:
                        Take(
                            r.Id,
                            x =>
                                ReminderDecider.Decide(x, new NoteDelivery(l.LetterId, DeliveryWord.Bounced, "550", Guid.Empty), _world.Now)
                        );
                        if (item is not null && finding)
                            item.Overdue = ZoneClock.Day(l.OwedAt, TimeZoneInfo.Utc);
                        break;
                    default:
                        for (var twice = 0; twice < 2; twice++)
                            Take(
                                r.Id,
                                x => ReminderDecider.Decide(x, new NoteLetterSent(l.LetterId, "m", "server", Guid.Empty), _world.Now)
                            );
                        if (item is not null && finding)
                            item.Overdue = _world.Today.AddDays(_world.Rules.Letters.NoAnswerDays);
                        break;
                }
            }
        }

        /// <summary>Evaluated until nothing follows; now and then killed after some of the steps, or with every step taken twice.</summary>
        private void Evaluate()
        {
            for (var round = 0; ; round++)
            {
                Assert.True(round < 12, $"seed {_seed} after '{_last}': the policy goes round in circles");
                var steps = ReminderPolicy.Steps(_world.Situation([.. _reminders.Values.OrderBy(r => r.Id)]));
                if (steps.Count == 0)
                    return;
                var twice = _random.Next(4) == 0;
                var killedAfter = _random.Next(4) == 0 ? _random.Next(steps.Count + 1) : steps.Count;
                if (round > 8)
                    killedAfter = steps.Count;
                foreach (var step in steps.Take(killedAfter))
                {
                    Take(step.ReminderId, r => ReminderSteps.Decide(r, step, _world.Now));
                    if (twice)
                        Take(step.ReminderId, r => ReminderSteps.Decide(r, step, _world.Now), expectNothing: true);
                }
            }
        }

        private void Take(Guid id, Func<Reminder?, Decided> decide, bool expectNothing = false)
        {
            var decided = decide(_reminders.GetValueOrDefault(id));
            if (expectNothing)
                Assert.True(
                    decided.Events.Count == 0,
                    $"seed {_seed} after '{_last}': a step that comes twice wrote {string.Join(", ", decided.Events)}"
                );
            foreach (var e in decided.Events)
                _reminders[id] = Apply(_reminders.GetValueOrDefault(id), e);
        }

        private static Reminder Apply(Reminder? r, object e) => Reminder.After(r, e)!;

        private void Compare()
        {
            var standing = _reminders.Values.Where(r => !r.Over).ToList();
            var where = $"seed {_seed} after '{_last}'";
            foreach (var family in standing.GroupBy(r => Families.FamilyOf(r.Rule)))
                Assert.True(family.Count() == 1, $"{where}: {family.Count()} reminders of {family.Key} stand at once");
            Assert.True(_reference.Raised == _reminders.Count, $"{where}: {_reminders.Count} were raised, {_reference.Raised} expected");
            var (expected, found) = (_reference.Items.Keys.Order(), standing.Select(r => Families.FamilyOf(r.Rule)).Order());
            Assert.True(
                expected.SequenceEqual(found),
                $"{where}: {string.Join(", ", standing.Select(r => $"{r.Rule} {r.State}"))}, {string.Join(", ", expected)} expected"
            );
            foreach (var r in standing)
            {
                var i = _reference.Items[Families.FamilyOf(r.Rule)];
                Assert.True(r.State == i.State, $"{where}: {i.Family} is {r.State}, {i.State} expected");
                if (r.State == ReminderState.Muted)
                    Assert.True(
                        r.Before == i.Before && (r.MutedBecause == MuteReason.CoveredByAnother) == i.Covered,
                        $"{where}: {i.Family} muted from {r.Before}, {i.Before} expected"
                    );
                Assert.True(
                    r.Post.Count(l => l.Kind == LetterKind.NoAnswer) == i.Escalations,
                    $"{where}: {i.Family} told a second person {r.Post.Count(l => l.Kind == LetterKind.NoAnswer)} times, {i.Escalations} "
                        + $"expected"
                );
                var findings = r.Post.Count(l => l.Kind is not (LetterKind.NoAnswer or LetterKind.GroundWithdrawn));
                Assert.True(findings == i.Findings, $"{where}: {i.Family} owes {findings} letters, {i.Findings} expected");
                Assert.Equal(r.Post.Count, r.Post.Select(l => l.LetterId).Distinct().Count());
            }

            Assert.True(
                _reference.AwaitsVet == (ReminderPolicy.AwaitsVet(_reminders.Values) is not null),
                $"{where}: the vet's word is{(_reference.AwaitsVet ? "" : " not")} awaited"
            );
            foreach (var family in new[] { ReminderFamily.Vet, ReminderFamily.Shape, ReminderFamily.Calendar })
            {
                var missed =
                    _reference.Ground(family)
                    && !_reference.Silence(family).Silent
                    && !_reference.Quiet(family)
                    && standing.All(r => Families.FamilyOf(r.Rule) != family);
                Assert.False(missed, $"{where}: {family} has a ground and no reminder");
            }
        }
    }
}
