using System.Reflection;
using BackHistory.Application.Registration;

namespace BackHistory.Application.Tests;

/// <summary>The right of each act, whatever door it is reached through.</summary>
public sealed class RightsTests
{
    /// <summary>What an apprentice must not do, whose own entries wait for a fitter.</summary>
    [Fact]
    public void Whatever_corrects_withdraws_or_merges_a_history_needs_somebody_who_answers_for_it()
    {
        string[] verbs = ["Confirm", "Correct", "Withdraw", "Merge", "Replace"];
        var correcting = Acts.All.Where(a => verbs.Any(v => a.Name.StartsWith(v, StringComparison.Ordinal))).ToList();
        Assert.True(correcting.Count >= 12, $"only {correcting.Count} acts correct something");
        Assert.All(correcting, a => Assert.True(RightOf(a) is Right.Fit or Right.Manage or Right.Administer, $"{a.Name}: {RightOf(a)}"));
    }

    [Fact]
    public void What_a_stranger_holds_lets_in_where_no_role_of_the_practice_stands_behind_it_and_nowhere_else() =>
        Assert.Equal(
            ["AcceptInvitation", "BindLinkToDevice", "CancelOwnVisit", "CommentOnSharedHorse", "MoveOwnVisit", "StopLetters"],
            Acts.All.Where(a => RightOf(a) == Right.Hold).Select(a => a.Name).Order(StringComparer.Ordinal)
        );

    [Fact]
    public void A_practice_is_opened_and_an_account_let_in_anew_on_the_machine_itself_and_nothing_else_is_asked_for_there() =>
        Assert.Equal(
            ["OpenPractice", "RecoverAccount"],
            Acts.All.Where(a => RightOf(a) == Right.Operate).Select(a => a.Name).Order(StringComparer.Ordinal)
        );

    private static Right RightOf(Type act) =>
        (Right)act.GetProperty(nameof(IAct.Needs), BindingFlags.Public | BindingFlags.Static)!.GetValue(null)!;
}
