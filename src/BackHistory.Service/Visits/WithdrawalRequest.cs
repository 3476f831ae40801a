namespace BackHistory.Service.Visits;

public sealed record WithdrawalRequest(string Reason);
