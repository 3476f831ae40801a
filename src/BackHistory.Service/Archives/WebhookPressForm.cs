using BackHistory.Service.Web;

namespace BackHistory.Service.Archives;

/// <summary>The wish to start a webhook again, or to remove it.</summary>
public sealed class WebhookPressForm : TypedForm;
