using BackHistory.History.Sharing;

namespace BackHistory.Service.Sharing;

/// <summary>Sharing in a person's words.</summary>
public static class SharedWords
{
    public static string Of(SharedWith role) =>
        role switch
        {
            SharedWith.Owner => "owner",
            SharedWith.Rider => "rider",
            SharedWith.Veterinarian => "veterinary surgeon",
            SharedWith.Physiotherapist => "physiotherapist",
            _ => "another practice",
        };

    public static string Of(SharedScope scope) =>
        scope switch
        {
            SharedScope.Summary => "sees the finding, the next check and one picture",
            SharedScope.Trends => "sees every measure over time",
            _ => "sees every visit and the saddle's settings",
        };

    /// <summary>A refusal's code in the words of the share section.</summary>
    public static string Refused(string code) =>
        code switch
        {
            "bad-email" => "This is no e-mail address. Nothing was given.",
            "no-name" => "Write the person's name: this address is new here. Nothing was given.",
            "bad-date" or "in-the-past" => "The last day is no day to come. Nothing was given.",
            "granted-already" => "This person sees the horse already in this role. Take it back first, to give it anew.",
            "not-the-owner" => "This person is not the horse's owner here. Enter the owner first, or choose another role.",
            "bad-days" => "A link holds for 1 to 90 days. None was made.",
            "horse-merged" => "This horse was registered twice. Share it where its history goes on. Nothing was changed here.",
            "horse-withdrawn" => "This horse was registered by mistake and withdrawn. Nothing was given.",
            "too-many" => "This horse is shared with 200 already. Take some back first.",
            "bad-words" => "Write something, in up to 2000 letters. Nothing was saved.",
            "no-such-reminder" or "over" => "There is nothing to answer just now. Write to the practice below instead.",
            _ => "That did not work. Nothing was changed.",
        };
}
