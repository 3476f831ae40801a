using BackHistory.Service.Web;

namespace BackHistory.Service.Reminders;

/// <summary>One day of a plan as it is accepted; each field by the horse's id.</summary>
public sealed class PlanDayForm : TypedForm
{
    public Dictionary<Guid, string>? Take { get; set; }

    public Dictionary<Guid, string>? On { get; set; }

    public Dictionary<Guid, string>? At { get; set; }

    public Dictionary<Guid, string>? Fitter { get; set; }

    /// <summary>How the page showed what waits for the visit.</summary>
    public Dictionary<Guid, string>? Shown { get; set; }

    /// <summary>Also where a fitter has no room.</summary>
    public bool EvenSo { get; set; }
}
