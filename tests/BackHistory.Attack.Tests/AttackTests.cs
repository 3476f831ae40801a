using BackHistory.Attack.Tests.Attacked;
using BackHistory.Attack.Tests.Attacks;
using BackHistory.Testing;

namespace BackHistory.Attack.Tests;

/// <summary>The attack that stays: the started service under fire from two practices and from strangers.</summary>
public sealed class AttackTests(ITestOutputHelper output) : IAsyncLifetime
{
    private AttackedService _service = null!;

    /// <summary>Another one is tried by <c>BACKHISTORY_ATTACK_SEED</c>.</summary>
    private static int Seed =>
        int.TryParse(
            Environment.GetEnvironmentVariable("BACKHISTORY_ATTACK_SEED"),
            System.Globalization.CultureInfo.InvariantCulture,
            out var given
        )
            ? given
            : 15;

    public async ValueTask InitializeAsync() => _service = await AttackedService.Start(await TestServer.NewDatabase(), Seed);

    public ValueTask DisposeAsync() => _service.DisposeAsync();

    [Fact]
    public Task Whatever_stands_in_a_field_of_a_body_nothing_breaks_and_both_practices_work_on() =>
        Holds("fields", 1000, () => FieldAttack.Run(_service, each: 1));

    [Fact]
    public Task Whatever_stands_in_an_address_nobody_reads_of_the_other_practice_and_nothing_breaks() =>
        Holds("addresses", 1000, () => AddressAttack.Run(_service, each: 1));

    [Fact]
    public Task Whatever_is_named_and_is_not_of_this_practice_is_refused_as_if_it_were_not_there() =>
        Holds("named ids", 200, () => NamedIdAttack.Run(_service));

    [Fact]
    public Task A_choice_is_one_of_those_that_are_offered_or_is_refused() => Holds("choices", 150, () => ChoiceAttack.Run(_service));

    [Fact]
    public Task No_text_is_endless_unseen_or_turned_around() => Holds("texts", 500, () => TextAttack.Run(_service));

    [Fact]
    public Task Nothing_is_written_for_whoever_was_signed_in_before_on_the_same_device() =>
        Holds("devices", 60, () => DeviceAttack.Run(_service));

    [Fact]
    public Task Whatever_file_is_sent_nothing_breaks_and_both_practices_work_on() =>
        Holds("files", 100, () => FileAttack.Run(_service, each: 12));

    [Fact]
    public Task A_key_that_comes_again_does_nothing_twice_and_is_nobody_elses() => Holds("keys", 300, () => KeyAttack.Run(_service));

    [Fact]
    public Task A_link_that_was_bent_or_carried_to_another_door_opens_nothing() =>
        Holds("links", 500, () => LinkAttack.Run(_service, each: 1));

    [Fact]
    public Task Whatever_is_typed_into_a_form_of_a_page_nothing_breaks_and_both_practices_work_on() =>
        Holds("forms", 200, () => FormAttack.Run(_service, each: 2));

    [Fact]
    public Task However_merges_withdrawals_visits_and_saddles_interleave_each_horse_ends_in_exactly_one_living_history() =>
        Holds("interleavings", 50 * 12, () => Interleavings.Run(_service, rounds: 50));

    private async Task Holds(string name, int atLeast, Func<Task> attack)
    {
        try
        {
            await attack();
        }
        catch (Exception e) when (e is InvalidOperationException or NullReferenceException or FormatException)
        {
            _service.Ledger.Fault($"The attack could not go on: {e}");
        }

        var line = _service.Ledger.Line(name);
        output.WriteLine(line);
        Console.WriteLine(line);
        Assert.True(_service.Ledger.Faults.Count == 0, $"{line}\n\n{_service.Ledger.Said()}");
        Assert.True(_service.Ledger.Attempts >= atLeast, $"only {_service.Ledger.Attempts} attempts");
    }
}
