using BackHistory.Reports.Letters.Content;
using Fluid;
using Fluid.Ast;

namespace BackHistory.Reports.Letters.Writing;

/// <summary>Refuses counting ranges: <c>(1..1000000000)</c> is built as a list before the first step is counted.</summary>
internal sealed class NoCounting : AstVisitor
{
    bool found;

    /// <exception cref="LetterTemplateException">The template counts.</exception>
    public static IFluidTemplate Checked(IFluidTemplate template)
    {
        var visitor = new NoCounting();
        visitor.VisitTemplate(template);
        return visitor.found ? throw new LetterTemplateException("Counting, as in (1..5), is not possible in a letter.", 0) : template;
    }

    protected override Statement VisitForStatement(ForStatement forStatement)
    {
        found |= forStatement.Range is not null;
        return base.VisitForStatement(forStatement);
    }

    protected override Expression VisitRangeExpression(RangeExpression rangeExpression)
    {
        found = true;
        return rangeExpression;
    }
}
