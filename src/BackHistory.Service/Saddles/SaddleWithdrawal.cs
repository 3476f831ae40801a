namespace BackHistory.Service.Saddles;

public sealed record SaddleWithdrawal(string Reason);
