namespace BackHistory.History.Reminders;

public enum DeliveryWord
{
    Deferred,
    Delayed,
    Delivered,
    Bounced,
}
