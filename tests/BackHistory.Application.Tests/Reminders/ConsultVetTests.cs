using BackHistory.Application.Letters;
using BackHistory.Application.Reminders;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store.Accounts;
using BackHistory.Store.Practices;
using BackHistory.Store.Sharing;

namespace BackHistory.Application.Tests.Reminders;

/// <summary>A vet is asked for their view: only where the owner did not refuse it, with a letter that says what is true and leads to the
/// horse.</summary>
public sealed class ConsultVetTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    [Fact]
    public async Task After_the_owners_no_nothing_is_sent_and_nothing_is_shown_and_the_refusal_says_who_said_so()
    {
        var (practice, reminder, vet) = await Asked("said no", consent: false);

        var refused = (await Ask(practice, reminder, vet)).Refused;

        Assert.Equal("no-consent", refused?.Code);
        Assert.Contains("Robin Field said no to sharing", refused!.Message, StringComparison.Ordinal);
        var stands = await practice.Reminder(reminder);
        Assert.DoesNotContain(stands.Post, l => l.To == vet);
        Assert.Null(await acts.Get<SharingQueries>().Load(practice.Name, stands.HorseId, default));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(null)]
    public async Task The_letter_says_that_the_owner_agreed_only_where_they_did_and_leads_to_a_sight_of_the_horse(bool? consent)
    {
        var (practice, reminder, vet) = await Asked($"asked {consent}", consent);

        Assert.Null((await Ask(practice, reminder, vet)).Refused);
        await acts.Store.CatchUp();
        await acts.Get<LetterPost>().Send(practice.Name, default);

        var letter = acts.Mail.Sent.Single(l => l.ToAddress == $"{vet:N}@people.invalid").Text;
        Assert.Contains("We ask for your view of Bramble", letter, StringComparison.Ordinal);
        Assert.DoesNotContain("asked us to share", letter, StringComparison.Ordinal);
        Assert.Equal(consent == true, letter.Contains("The owner agreed on", StringComparison.Ordinal));
        var stands = await practice.Reminder(reminder);
        var shown = await acts.Get<SharingQueries>().Load(practice.Name, stands.HorseId, default);
        var link = Assert.Single(shown!.Links);
        Assert.Contains($"/look/{stands.HorseId}/{link.Key}", letter, StringComparison.Ordinal);
        Assert.Equal(vet, link.Value.PersonId);
    }

    private async Task<(TestPractice Practice, Guid Reminder, Guid Vet)> Asked(string name, bool? consent)
    {
        var practice = await acts.Found(name);
        var owner = await practice.Person("Robin Field", PersonRole.Owner);
        var vet = await practice.Person("Vera Moss", PersonRole.Veterinarian);
        if (consent is { } given)
        {
            var day = ZoneClock.Day(acts.Time.Now, TimeZoneInfo.Utc);
            await acts.Get<PracticeQueries>()
                .Change(
                    practice.Name,
                    owner,
                    p => p with { Consents = [new Consent(ConsentKind.Sharing, given, day, "By telephone.", acts.Time.Now, owner)] },
                    default
                );
        }

        var (reminder, _) = await practice.NeverMeasured("Bramble", owner, acts.Time.Now);
        return (practice, reminder, vet);
    }

    private Task<Outcome> Ask(TestPractice practice, Guid reminder, Guid vet) =>
        acts.Get<ConsultVet>().Do(new(reminder, vet), practice.By(PracticeRole.Fitter), default);
}
