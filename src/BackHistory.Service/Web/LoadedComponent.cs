using Microsoft.AspNetCore.Components;

namespace BackHistory.Service.Web;

/// <summary>
/// A page, or a part of one, that reads before it shows. The framework draws a component as soon as its first read does not answer at
/// once; where that is the second one, because the first had its answer lying ready, the page would be drawn half read. Here nothing is
/// drawn between the reads.
/// </summary>
public abstract class LoadedComponent : ComponentBase
{
    /// <summary>Reads everything that is shown.</summary>
    protected abstract Task Load();

    protected sealed override async Task OnInitializedAsync()
    {
        await Task.Yield();
        await Load();
    }
}
